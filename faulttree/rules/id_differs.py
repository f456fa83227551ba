"""A tree has another name than its file.

Meaning:
    `id` is not the name of the file without `.yaml`.

Why:
    Commands, records and other trees name a tree by its id; people look for the file by the same name.

Wrong:
    # lamp-does-not-light.yaml
    id: lamp

Right:
    # lamp-does-not-light.yaml
    id: lamp-does-not-light
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit


def check(context: Context) -> Iterator[Hit]:
    """One hit at the id."""
    if context.file_name and context.file_name != context.tree.id:
        message = f'the id "{context.tree.id}" differs from the name of the file, "{context.file_name}"'
        yield Hit(("id",), message, f'write "{context.file_name}", or rename the file')
