"""`python -m bookmaker`, the same as the `bookmaker` command."""

import sys

from bookmaker.cli import main

if __name__ == "__main__":
    sys.exit(main())
