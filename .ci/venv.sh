# Read by tests/run.sh and examples/demo.sh, with the project's folder as the current one.
# PYTHON names another interpreter: PYTHON=/opt/python3.13/bin/python3 sh tests/run.sh

say() { printf '%s\n' "$*" >&2; }

is_new_enough() { "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; }

find_python() {
    for name in "${PYTHON:-python3}" python3 python3.14 python3.13 python3.12 python3.11 python; do
        if is_new_enough "$name"; then
            printf '%s\n' "$name"
            return
        fi
    done
    say "Python 3.11 or newer is needed and was not found."
    say "Install it, or name it: PYTHON=/path/to/python sh $0"
    return 1
}

# Sets $venv_python. $1 is what is installed ('.' or '.[dev]'), $2 names the stamp that says it was.
# Installed anew when the list of dependencies has changed since.
ensure_venv() {
    venv_python=.venv/bin/python
    [ ! -d .venv/Scripts ] || venv_python=.venv/Scripts/python # Windows
    if ! is_new_enough "$venv_python"; then
        python=$(find_python) || exit 2
        say "Setting up .venv with $("$python" --version) ..."
        if ! "$python" -m venv .venv; then
            say "Python's module venv did not work. On Debian and Ubuntu: apt-get install python3-venv"
            exit 2
        fi
        [ ! -d .venv/Scripts ] || venv_python=.venv/Scripts/python
    fi
    if [ ! -f ".venv/$2" ] || [ -n "$(find pyproject.toml -newer ".venv/$2")" ]; then
        say "Installing xref and what it needs into .venv (a few minutes the first time) ..."
        "$venv_python" -m pip install --quiet --disable-pip-version-check -e "$1" || exit 2
        touch ".venv/$2"
    fi
}
