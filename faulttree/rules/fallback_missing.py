"""A tree has no fallback for an occupant who cannot wait.

Meaning:
    The library knows an occupant (a patient on the cot), and this tree has no `fallback`, or none with a line that the
    first role may do.

Why:
    Every screen says how to reach the fallback while there is an occupant. The people who stand there first must find
    something in it that they may do at once.

Wrong:
    first_actions:
      - {who: crew, do: Take another lamp.}

Right:
    first_actions:
      - {who: crew, do: Take another lamp.}
    fallback:
      - {who: crew, do: Work with the spare lamp.}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit at the tree or at its fallback."""
    library, lines = context.library, context.tree.fallback
    if library.occupant is None:
        return
    first = library.first_role
    if not lines:
        message = "the tree has no fallback, and the library knows an occupant"
        yield Hit(("symptom", "~"), message, f'add `fallback` with a line for "{first}"')
    elif not any(library.may(first, line.who) for line in lines):
        yield Hit(("fallback", "~"), f'no line of the fallback is for "{first}"', f'add a line that "{first}" may do')
