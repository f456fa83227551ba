"""Makes the helpers of the folder above importable, where only this folder is run."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parents[1]))
