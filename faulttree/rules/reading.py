"""Pages of what can be wrong and is no rule's finding: files that are refused, sentences that were taken apart.

The problems come from the reading of files; here are only the words that explain them. Pages about texts that are no
YAML, about the shape of files and about what keeps a tree from being built stand in tables of their own and are joined
here.
"""

from __future__ import annotations

from faulttree.rules.reading_shape import SHAPE_TABLE
from faulttree.rules.reading_steps import STEPS_TABLE
from faulttree.rules.reading_yaml import YAML_TABLE
from faulttree.rules.standing import STANDING_TABLE, STANDING_WARNINGS

WARNINGS = frozenset({"file-hidden", "file-suffix"}) | STANDING_WARNINGS
"""The names here that are warnings; all others are errors."""


def pages_in(table: str) -> dict[str, str]:
    """The pages of a table by name: a name, then its page; rows of four hyphens part them."""
    rows = (row.strip().partition("\n") for row in table.split("\n----\n"))
    return {name: page for name, _, page in rows}


_TABLE = """
file-hidden
A file of the library is hidden.
Meaning:
    The name of the file, or of a folder above it, begins with a dot, and the file looks like one of a library.
Why:
    Hidden files are not read, so a tree there is not checked and nobody can walk it.
Wrong:
    .old/lamp-is-dark.yaml
Right:
    lamp/lamp-is-dark.yaml
----
file-misplaced
A shared file does not stand beside library.yaml.
Meaning:
    A file below the library's folder has a name that is kept for shared files, such as notices.yaml.
Why:
    Shared entries are read from the folder of library.yaml only; these would be missing.
Wrong:
    lamp/notices.yaml
Right:
    notices.yaml
----
file-refused
A file cannot be read as one of the library.
Meaning:
    It is a link that leads out of the library's folder, or no regular file.
Why:
    A library must be the same on every machine and in every copy.
Wrong:
    lamp-is-dark.yaml -> /home/someone/lamp.yaml
Right:
    lamp-is-dark.yaml            # a copy of the file
----
file-suffix
The name of a file does not end in .yaml.
Meaning:
    The file looks like one of a library, and its name ends in .yml, or in .yaml in capitals.
Why:
    Only names that end in .yaml are read, so a tree there is not checked and nobody can walk it.
Wrong:
    lamp-is-dark.yml
Right:
    lamp-is-dark.yaml
----
id-taken
Two files have a tree of the same id.
Meaning:
    The `id` of this tree is that of a tree in another file of the library.
Why:
    Commands, records and other trees name a tree by its id.
Wrong:
    # cabin/lamp-is-dark.yaml and hangar/lamp-is-dark.yaml
    id: lamp-is-dark
Right:
    # hangar/hangar-lamp-is-dark.yaml
    id: hangar-lamp-is-dark
----
prose-comma
A comma has split a sentence in braces or brackets.
Meaning:
    Inside `{..}` and `[..]` a comma ends the value. The rest of the sentence became a key or an item of its own. In a
    list of sentences this is told where an item without quotes and full stop is followed by one that seems to go on:
    it begins with a word such as "and" or "not", or a full stop comes later.
Why:
    Half of a sentence would be lost, and that may be the half with "not" in it.
Wrong:
    first_actions:
      - {who: crew, do: Take another lamp, hang the tag on this one}
    avoid: [Wipe with water, not with solvent.]
Right:
    first_actions:
      - who: crew
        do: Take another lamp, hang the tag on this one
    avoid:
      - Wipe with water, not with solvent.
----
prose-comment
A comment may have cut a sentence short.
Meaning:
    One blank and "#" follow a text of several words. To YAML a comment begins there.
Why:
    "Check pin 3 # 4" is read as "Check pin 3", and nobody would notice.
Wrong:
    check: Is the seal of cell # 2 whole?
Right:
    check: "Is the seal of cell # 2 whole?"
----
prose-dash
A line that begins with a dash is no item of a list.
Meaning:
    No blank follows the dash, or the line stands further to the right than the items above it. Where a text without
    quotes stands above, YAML takes such a line for more of it.
Why:
    Two lines of work would become one, and the second could be overlooked.
Wrong:
    do:
      - Take the cell out
        -Wipe the contacts
Right:
    do:
      - Take the cell out
      - Wipe the contacts
"""

_TABLES = (_TABLE, YAML_TABLE, SHAPE_TABLE, STEPS_TABLE, STANDING_TABLE)

READING_PAGES = {name: page for table in _TABLES for name, page in pages_in(table).items()}
"""The page of every name that a problem may carry and that is no rule."""
