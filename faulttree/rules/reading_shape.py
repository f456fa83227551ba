"""Pages of what can be wrong with the shape of a file: its keys and values, lists and mappings."""

from __future__ import annotations

SHAPE_TABLE = """
key-missing
A key that must be there is missing.
Meaning:
    The description of the format asks for this key at this place.
Why:
    Without it the entry says too little to be used.
Wrong:
    contacts:
      check: Are the contacts clean?
      findings: {Clean: fit-cell, Film: wipe-contacts}
Right:
    contacts:
      check: Are the contacts clean?
      who: crew
      findings: {Clean: fit-cell, Film: wipe-contacts}
----
key-not-here
A key stands where it does not belong.
Meaning:
    The format knows the key, but not at this place, or not together with another key that stands here.
Why:
    It would do nothing, although whoever wrote it expected something.
Wrong:
    out-of-use:
      end: out of service
      parts: {SL-10: 1}
Right:
    fit-cell:
      fix: Fit a new cell
      parts: {SL-10: 1}
----
key-pattern
A name has a form that names cannot have here.
Meaning:
    Names of steps and causes have lower-case letters, digits and hyphens; models begin with a capital letter; labels
    have at most 24 characters and none of , : ; # [ ] { }.
Why:
    Names are typed, said over the radio and used in commands.
Wrong:
    steps:
      Fit Cell: {fix: Fit a new cell}
Right:
    steps:
      fit-cell: {fix: Fit a new cell}
----
key-unknown
A key is not known.
Meaning:
    The format has no such key. Keys of your own begin with "x-" and are passed over.
Why:
    A slip in a key would mean that its value is not seen, be it a warning.
Wrong:
    notice: [hot-lens]
Right:
    notices: [hot-lens]
----
list-empty
A list has nothing in it.
Meaning:
    `[]` stands where at least one item is wanted.
Why:
    What is not needed is left out together with its key.
Wrong:
    notices: []
Right:
    notices: [hot-lens]
----
list-length
A list has too few or too many items.
Meaning:
    A range has two numbers; a check has nine findings at most.
Why:
    Findings are chosen by one digit.
Wrong:
    range: [0]
Right:
    range: [0, 2]
----
list-repeats
An item stands twice in a list.
Meaning:
    The list has the same item again.
Why:
    It says nothing, or another item was meant.
Wrong:
    tools: [ring-key, ring-key]
Right:
    tools: [ring-key, volt-meter]
----
mapping-empty
A mapping has nothing in it.
Meaning:
    `{}` stands where at least one entry is wanted.
Why:
    What is not needed is left out together with its key.
Wrong:
    findings: {}
Right:
    findings: {Clean: fit-cell, Film: wipe-contacts}
----
mapping-length
A mapping has too many entries.
Meaning:
    A check has nine findings at most.
Why:
    Findings are chosen by one digit.
Wrong:
    findings: {A: a, B: a, C: a, D: a, E: a, F: a, G: a, H: a, I: a, J: b}
Right:
    findings: {A to I: a, J: b}
----
shape-wrong
A file or a value is of the wrong kind.
Meaning:
    The value does not have the shape that the format describes, or a table of the library has no entry.
Why:
    It cannot be read as what it should be.
Wrong:
    roles: {x-note: to be done}
Right:
    roles: {crew: {may: look and switch}}
----
value-empty
A text holds blanks only.
Meaning:
    The text has no character that can be seen.
Why:
    Something was meant and is not there.
Wrong:
    is: " "
Right:
    is: Cell flat
----
value-not-date
A date is no day of the calendar.
Meaning:
    The date has the right form, year-month-day, but there is no such day.
Why:
    Revisions and releases are compared by date.
Wrong:
    date: 2026-02-30
Right:
    date: 2026-02-28
----
value-not-list
A value is no list.
Meaning:
    One value, or a mapping, stands where a list is wanted.
Why:
    It cannot be read as what it should be.
Wrong:
    notices: hot-lens
Right:
    notices: [hot-lens]
----
value-not-mapping
A value is no mapping.
Meaning:
    One value, or a list, stands where keys with values are wanted.
Why:
    It cannot be read as what it should be.
Wrong:
    parts: [SL-10]
Right:
    parts: {SL-10: 1}
----
value-not-number
A value is no number.
Meaning:
    A number is wanted: digits, with a point for decimals, without quotes and without a unit.
Why:
    Minutes, limits and torques are counted with.
Wrong:
    minutes: 2 min
Right:
    minutes: 2
----
value-not-one-of
A value is none of the words that may stand here.
Meaning:
    Only certain words have a meaning at this place; the problem names them.
Why:
    Any other word would do nothing.
Wrong:
    status: final
Right:
    status: released
----
value-not-text
A value is no text.
Meaning:
    A list or a mapping stands where one text is wanted.
Why:
    It cannot be shown as one sentence.
Wrong:
    check: [Are the contacts clean?]
Right:
    check: Are the contacts clean?
----
value-not-true-false
A value is neither true nor false.
Meaning:
    `true` or `false` is wanted, without quotes. Yes, no, on and off are texts.
Why:
    Readers of YAML do not agree on what other words mean.
Wrong:
    by_elimination: yes
Right:
    by_elimination: true
----
value-not-whole
A number is not whole.
Meaning:
    A count is wanted.
Why:
    There are no parts of people.
Wrong:
    people: 1.5
Right:
    people: 2
----
value-out-of-range
A number is too small or too large for its place.
Meaning:
    The number lies outside what may stand here; the problem names the bound.
Why:
    It would make no sense: minutes below zero, a surer reading than sure.
Wrong:
    sure: 1.2
Right:
    sure: 0.8
----
value-pattern
A text does not have the form that its place wants.
Meaning:
    Names, short names and dates have fixed forms; the problem describes the one that is wanted.
Why:
    Names are typed, said over the radio and used in commands.
Wrong:
    short: LIO                   # I and O are left out, they look like 1 and 0
Right:
    short: LMP
"""
