"""`python -m county`: the commands."""

import os
import sys

from county.cli import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], os.environ))
