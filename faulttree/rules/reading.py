"""Pages of what can be wrong and is no rule's finding: files that are refused, texts that are no YAML.

The problems come from the reading of files; here are only the words that explain them. Pages about the shape of files
and about what keeps a tree from being built stand in tables of their own and are joined here.
"""

from __future__ import annotations

from faulttree.rules.reading_shape import SHAPE_TABLE
from faulttree.rules.reading_steps import STEPS_TABLE
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
    it begins in lower case though the list does not, begins with a word such as "and" or "not", or a full stop comes
    later.
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
----
yaml-alias
An alias stands for a value written elsewhere.
Meaning:
    A value that begins with "*" is an alias.
Why:
    A reader of the file must see what stands at each place. The format repeats steps by `again`.
Wrong:
    findings: *usual
Right:
    findings: {Clean: fit-cell, Film: wipe-contacts}
----
yaml-anchor
An anchor names a value for use elsewhere.
Meaning:
    A value that begins with "&" is an anchor.
Why:
    Aliases are refused, so an anchor has no use; a text that shall begin with "&" needs quotes.
Wrong:
    findings: &usual {Clean: fit-cell, Film: wipe-contacts}
Right:
    findings: {Clean: fit-cell, Film: wipe-contacts}
----
yaml-bidi
A character turns the direction of writing.
Meaning:
    The text has a character that makes what follows run from right to left, or marks a direction.
Why:
    What is read would differ from what is stored: a number or a name could stand the other way round.
Wrong:
    do: Set it to \\u202e21 N·m
Right:
    do: Set it to 12 N·m
----
yaml-control-character
A control character stands in the text.
Meaning:
    The text has a control character or a code that is no character, itself or by an escape in double quotes.
Why:
    It could move the cursor or colour the screen of whoever reads it.
Wrong:
    check: "Is it \\e[31mhot?"
Right:
    check: Is it hot?
----
yaml-directive
A line of instructions to the YAML reader.
Meaning:
    A line begins with "%".
Why:
    All files are read by the same rules; no file may change them.
Wrong:
    %YAML 1.1
    faulttree: 1
Right:
    faulttree: 1
----
yaml-documents
A second document stands in one file.
Meaning:
    A line "---" begins another document.
Why:
    One file is one tree, and is found by its name.
Wrong:
    id: lamp-is-dark
    ---
    id: lamp-is-dim
Right:
    id: lamp-is-dark             # and lamp-is-dim in a file of its own
----
yaml-empty
A value, an item or the whole file is empty.
Meaning:
    A key has no value, a dash has no item, or the file has nothing in it.
Why:
    Something was meant and is not there. What is not needed is left out together with its key.
Wrong:
    unable:
Right:
    unable: out-of-use
----
yaml-key-not-text
A key is no text.
Meaning:
    A key is empty, or is itself a list or a mapping.
Why:
    Keys are names. A text with brackets or braces at its beginning needs quotes.
Wrong:
    {a, b}: fit-cell
Right:
    a: fit-cell
    b: fit-cell
----
yaml-key-twice
A key stands twice in one mapping.
Meaning:
    The same key has two values; the problem names the place of the first.
Why:
    Many programs would take the last and say nothing: a step or a warning would be lost.
Wrong:
    minutes: 1
    who: crew
    minutes: 2
Right:
    minutes: 2
    who: crew
----
yaml-merge
A key would merge another mapping.
Meaning:
    The key "<<" takes over the keys of another mapping.
Why:
    A reader of the file must see what stands at each place.
Wrong:
    volts:
      <<: *check
Right:
    volts:
      check: Is the cell good under load?
      who: mechanic
----
yaml-not-utf8
The file is not in UTF-8.
Meaning:
    The bytes of the file are those of another encoding.
Why:
    Signs such as ° and · would be read as others.
Wrong:
    torque: 0,5 N\\xb7m           # saved as Latin-1
Right:
    torque: 0,5 N·m              # saved as UTF-8
----
yaml-syntax
The text is not YAML.
Meaning:
    The text breaks the rules of YAML at this place: quotes or brackets that are not closed, a second colon in a line,
    a line that is indented like none above.
Why:
    Nothing below this place could be read.
Wrong:
    is: Cell flat: at its end
Right:
    is: "Cell flat: at its end"
----
yaml-tab
A tab stands where blanks are wanted.
Meaning:
    A line is indented by a tab.
Why:
    A tab has no width of its own, so it cannot tell what belongs to what.
Wrong:
    findings:
    \\tClean: fit-cell
Right:
    findings:
      Clean: fit-cell
----
yaml-tag
A tag says of which type a value is.
Meaning:
    A value that begins with "!" has a tag.
Why:
    What is wanted decides whether a value is a text or a number; the file need not say it. A text that shall begin
    with "!" needs quotes.
Wrong:
    minutes: !!int 2
Right:
    minutes: 2
----
yaml-too-deep
The nesting is too deep.
Meaning:
    Lists and mappings stand in each other more than 32 levels deep.
Why:
    No file of a library needs that; a file that has it is damaged or meant to do harm.
Wrong:
    do: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[Take the cell out.]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]
Right:
    do:
      - Take the cell out.
----
yaml-too-large
The file is too large.
Meaning:
    The file has more than a mebibyte (1 048 576 bytes).
Why:
    A tree of that size can be neither reviewed nor walked.
Wrong:
    # one file for all symptoms
Right:
    # one file for each symptom
"""

_TABLES = (_TABLE, SHAPE_TABLE, STEPS_TABLE, STANDING_TABLE)

READING_PAGES = {name: page for table in _TABLES for name, page in pages_in(table).items()}
"""The page of every name that a problem may carry and that is no rule."""
