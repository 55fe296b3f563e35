#!/bin/sh
# The whole way once, with the demo manuals: an electric forklift whose modules move into a canal workboat.
# Reads examples/manuals, writes into examples/out. Sets up .venv when it is missing.
set -eu

cd "$(CDPATH='' cd -- "$(dirname -- "$0")" && pwd)/.."
. ./.ci/venv.sh
ensure_venv . .xref-installed

out=examples/out
rm -rf "$out"
mkdir -p "$out"

# Exit code 1 means "nothing found", which is no reason to stop a demonstration
xref() {
    say ""
    say "\$ xref $*"
    "$venv_python" -m xref --workspace "$out" "$@" || [ $? -eq 1 ]
}

xref index examples/manuals --machine forklift
xref circuit @CIRCUIT1@ --picture "$out/page.png"
xref circuit @CIRCUIT2@
xref connector @CONNECTOR@
xref find @TEXT@
for kind in pdf xlsx html; do
    xref sheet "@MODULE@" --output "$out/sheet.$kind"
done
xref export "$out/pins.csv"

say ""
say "Written to $(pwd)/$out:"
say "  sheet.pdf, sheet.xlsx, sheet.html  the cross-reference sheet of the @MODULE@"
say "  page.png                           a manual's page with the rows of circuit @CIRCUIT1@ marked"
say "  pins.csv                           every row that was read"
