"""Pages of texts that are no YAML, and of what YAML has and a library does not use."""

from __future__ import annotations

YAML_TABLE = """
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
    The text has a control character, a character that is not seen (a soft hyphen, a blank without width), or a code
    that is no character, itself or by an escape in double quotes.
Why:
    It could move the cursor or colour the screen of whoever reads it. What is not seen makes two labels, or two
    lines of a comparison, of what looks like one.
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
