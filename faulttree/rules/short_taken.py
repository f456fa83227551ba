"""Two trees have one short name.

Meaning:
    `short` is the same in two trees of the library.

Why:
    A read-back code begins with the short name, and nothing else in it tells which tree is meant.

Wrong:
    # lamp-is-dark.yaml and lamp-is-dim.yaml
    short: LMP

Right:
    # lamp-is-dim.yaml
    short: LMD
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.advice import listed
from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit at the short name."""
    short, own = context.tree.short, context.tree.id
    others = [name for name in context.by_short.get(short, ()) if name != own]
    if others:
        yield Hit(("short",), f'the short name "{short}" is that of {listed(others)} too', "choose three other letters")
