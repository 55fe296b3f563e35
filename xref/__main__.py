"""`python -m xref` is the `xref` command."""

import sys

from xref.cli import main

if __name__ == "__main__":  # page workers started by `spawn` import this file, too
    sys.exit(main())
