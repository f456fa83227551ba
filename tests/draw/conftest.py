"""Where the helpers are that all tests share: known to Python only where tests a folder above are run too."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parents[1]))
