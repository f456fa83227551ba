"""Equipment is taken out of service, and nothing says so once the page is closed.

Meaning:
    An end `out of service` opens no duty (an item of the library's `open_items`) by its `opens`. In a library that has
    no duty nothing is said.

Why:
    The page tells to hang a tag. Who comes next sees neither the page nor, at times, the tag. Only what is open stays
    in the list of what waits and in the record, until somebody whom it is for says that it is done. That an earlier
    step opened the duty on one way does not help on the others, so the end says it itself.

Wrong:
    out-of-use:
      end: out of service
      do: Hang the tag on the lamp.

Right:
    out-of-use:
      end: out of service
      opens: [lamp-out-of-use]
      do: Hang the tag on the lamp.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit for each such end."""
    duties = [name for name, item in context.library.open_items.items() if item.kind == "duty"]
    if not duties:
        return
    for end in context.ends:
        if end.kind == "out of service" and not set(end.opens) & set(duties):
            yield Hit(
                ("steps", end.id, "end"),
                f'"{end.id}" takes out of service and opens no duty',
                f"name by `opens` what remains to be done: {', '.join(duties)}",
            )
