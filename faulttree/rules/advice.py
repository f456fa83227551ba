"""What to write instead of a name that leads nowhere."""

from __future__ import annotations

from collections.abc import Iterable


def instead(name: str, known: Iterable[str], otherwise: str) -> str:
    """The known name that is most like ``name``, as a help; ``otherwise`` where none is."""
    from difflib import get_close_matches

    like = get_close_matches(name, list(known), n=1)
    return f'write "{like[0]}"' if like else otherwise


def listed(names: Iterable[str]) -> str:
    """Names in quotes, with commas."""
    return ", ".join(f'"{name}"' for name in names)
