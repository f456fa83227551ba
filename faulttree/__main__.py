"""``python -m faulttree``."""

import sys

from faulttree.cli.main import main

sys.exit(main())
