"""``python -m tests.bench NAME [OPTION ...]``: run a benchmark and print its figures.

Each benchmark is a module beside this one with ``main(words)``.
"""

from __future__ import annotations

import sys
from importlib import import_module

NAMES = ("startup", "checking", "screen", "drawing")


def main() -> int:
    """Run the benchmark that is named first; without a name, list them."""
    name, *words = sys.argv[1:] or [""]
    if name not in NAMES:
        print(f"usage: python -m tests.bench {'|'.join(NAMES)} [OPTION ...]")
        return 2
    import_module(f".{name}", __package__).main(words)
    return 0


sys.exit(main())
