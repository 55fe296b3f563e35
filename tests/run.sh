#!/bin/sh
# Runs everything that must hold: lint, format, types, tests. Arguments go to pytest.
# Sets up .venv when it is missing; PYTHON names another interpreter, e.g. PYTHON=python3.12 sh tests/run.sh
set -eu

here=$(CDPATH= cd -- "$(dirname -- "$0")" && pwd)
cd "$here/.."

say() { printf '%s\n' "$*" >&2; }

is_new_enough() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; }

find_python() {
    for name in ${PYTHON:-} python3 python3.13 python3.12 python3.11 python; do
        if is_new_enough "$name"; then
            printf '%s\n' "$name"
            return
        fi
    done
    say "Python 3.11 or newer is needed and was not found. Install it, or name it: PYTHON=/path/to/python sh tests/run.sh"
    exit 2
}

# .venv/bin on Unix, .venv/Scripts on Windows
venv_bin() { if [ -d .venv/Scripts ]; then echo .venv/Scripts; else echo .venv/bin; fi; }

# Installed anew when the list of dependencies has changed since
stamp=.venv/.xref-dev
if [ ! -f "$stamp" ] || [ pyproject.toml -nt "$stamp" ]; then
    if ! is_new_enough "$(venv_bin)/python"; then
        python=$(find_python)
        say "Setting up .venv with $($python --version) ..."
        if ! "$python" -m venv .venv; then
            say "The module venv is missing. On Debian and Ubuntu: apt-get install python3-venv"
            exit 2
        fi
    fi
    say "Installing xref and what its tests need into .venv (a few minutes the first time) ..."
    "$(venv_bin)/python" -m pip install --quiet --disable-pip-version-check -e '.[dev]'
    touch "$stamp"
fi
bin=$(venv_bin)

failed=""
step() {
    name=$1
    shift
    say "== $name"
    "$@" || failed="$failed $name,"
}

step "ruff check" "$bin/ruff" check xref tests fixtures
step "ruff format" "$bin/ruff" format --check xref tests fixtures
step "mypy" "$bin/mypy"
# -rs names every test that was skipped, with its reason
step "pytest" "$bin/python" -m pytest -n 2 -rs "$@"

if [ -n "$failed" ]; then
    say "FAILED:${failed%,}"
    exit 1
fi
say "All passed."
