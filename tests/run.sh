#!/bin/sh
# Runs everything that must hold: lint, format, types, tests. Arguments go to pytest.
# Sets up .venv when it is missing. Needs no system package.
set -eu

cd "$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)/.."
. ./.ci/venv.sh
ensure_venv '.[dev]' .xref-dev

failed=""
step() {
    name=$1
    shift
    say "== $name"
    "$venv_python" -m "$@" || failed="$failed $name,"
}

step "ruff check" ruff check .
step "ruff format" ruff format --check .
step "mypy" mypy
step "pytest" pytest -n 2 -rs "$@" # -rs: every skipped test is named with its reason

if [ -n "$failed" ]; then
    say "FAILED:${failed%,}"
    exit 1
fi
say "All passed."
