"""A key of the header stands after the causes.

Meaning:
    One of the keys that describe the tree (symptom, urgency, status and so on) comes after `causes`.

Why:
    The list of symptoms reads each file only as far as the line `causes`. What stands below is not seen there: a tree
    could be listed without its other words or its models.

Wrong:
    causes:
      cell-flat: {is: Cell flat}
    urgency: soon

Right:
    urgency: soon
    causes:
      cell-flat: {is: Cell flat}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit

BODY = ("causes", "start", "steps", "cases")


def check(context: Context) -> Iterator[Hit]:
    """One hit for each key."""
    keys = context.keys
    late = keys[keys.index("causes") :] if "causes" in keys else ()
    for key in late:
        if key not in BODY and not key.startswith("x-"):
            yield Hit((key, "~"), f'"{key}" stands after "causes"', 'move it above "causes"')
