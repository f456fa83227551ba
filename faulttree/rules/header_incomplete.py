"""A tree does not say what is needed before its first step.

Meaning:
    The tree has no `before` (what must be so before anything is touched), no `first_actions` (what is done at once), or
    no `report` (what the first role passes on). A `fallback` is asked for by the rule fallback-missing, and `urgency`
    by the shape of the file.

Why:
    They are read first and by everybody, also by those who never come to the first check. What an author leaves out
    here each reader makes up.

Wrong:
    id: lamp-does-not-light
    symptom: The lamp does not light

Right:
    id: lamp-does-not-light
    symptom: The lamp does not light
    before: The lamp is out of the charger.
    first_actions: [{who: crew, do: Take another lamp.}]
    report: Lamp no. ___ did not light at ___.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit

KEYS = (
    ("before", "what must be so before anything is touched"),
    ("first_actions", "what is done at once"),
    ("report", "what is passed on"),
)


def check(context: Context) -> Iterator[Hit]:
    """One hit for each key."""
    for key, what in KEYS:
        if not getattr(context.tree, key):
            message = f'"{context.tree.id}" does not say {what}'
            yield Hit(("id",), message, f"say it by `{key}`")
