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
    printf '$ xref' >&2
    for word in "$@"; do
        case $word in *" "*) printf ' "%s"' "$word" ;; *) printf ' %s' "$word" ;; esac >&2
    done
    say ""
    "$venv_python" -m xref --workspace "$out" "$@" || [ $? -eq 1 ]
}

xref index examples/manuals --machine forklift
xref circuit 2316 --picture "$out/page.png"
xref circuit 1062
xref connector "A30 X2"
xref find side-shift valve
xref trace "A30 X1:C4" A40
for kind in svg png pdf; do
    xref circuit 1060 --output "$out/net.$kind"
done
for kind in pdf xlsx html; do
    xref sheet "Mast controller" --output "$out/sheet.$kind"
done
xref plan new "Mast controller" --output "$out/move.toml"
xref plan show examples/workboat.toml --output "$out/plan.pdf"
xref plan labels examples/workboat.toml --sheet A4 --output "$out/labels.pdf"
xref export "$out/pins.csv"

say ""
say "Written to $(pwd)/$out:"
say "  sheet.pdf, sheet.xlsx, sheet.html  the cross-reference sheet of the Mast controller"
say "  move.toml                          a plan to fill in: where the Mast controller is to sit"
say "  plan.pdf                           examples/workboat.toml worked out: every cut, joint and question"
say "  labels.pdf                         a label for each end of each wire of it, true to scale"
say "  page.png, page-2.png ...           the manuals' pages with the rows of circuit 2316 marked"
say "  net.svg, net.png, net.pdf          the whole net of circuit 1060, drawn"
say "  pins.csv                           every row that was read"
