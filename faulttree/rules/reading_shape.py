"""Pages of what can be wrong with the shape of a file: its keys and values, its models, its repeated steps."""

from __future__ import annotations


def pages_in(table: str) -> dict[str, str]:
    """The pages of a table by name: a name, then its page; rows of four hyphens part them."""
    rows = (row.strip().partition("\n") for row in table.split("\n----\n"))
    return {name: page for name, _, page in rows}


_TABLE = """
again-label
A repeated step does not fit the step that it repeats.
Meaning:
    `again` gives findings or a way that the repeated check or fix does not have, or leaves a finding out.
Why:
    It is the same check at another place: the same question with the same findings. Only its ways may differ.
Wrong:
    contacts:
      check: Are the contacts clean?
      findings: {Clean: fit-cell, Film: wipe-contacts}
    contacts-again:
      again: contacts
      findings: {Clean: bridge}
Right:
    contacts:
      check: Are the contacts clean?
      findings: {Clean: fit-cell, Film: wipe-contacts}
    contacts-again:
      again: contacts
      findings: {Clean: bridge, Film: wipe-contacts}
----
again-of-again
A step repeats a step that itself repeats another.
Meaning:
    `again` names a step that has `again`.
Why:
    Whoever reads the file should find the check or the fix at once.
Wrong:
    contacts-dark: {again: contacts}
    contacts-last: {again: contacts-dark}
Right:
    contacts-dark: {again: contacts}
    contacts-last: {again: contacts}
----
again-unknown
A step repeats what is no check and no fix.
Meaning:
    `again` names a step that is not there, or an end.
Why:
    There would be nothing to do at this step. To an end one leads directly, from any number of places.
Wrong:
    contacts-last: {again: contact}
Right:
    contacts-last: {again: contacts}
----
band-missing
A band of the measured limit is no finding.
Meaning:
    `measure` names a limit, and one of its bands is missing from the findings of the check.
Why:
    A reading in that band would lead nowhere.
Wrong:
    volts:
      check: Is the cell good under load?
      measure: cell-volts        # has the bands Flat and Good
      findings: {Flat: fit-cell}
Right:
    volts:
      check: Is the cell good under load?
      measure: cell-volts
      findings: {Flat: fit-cell, Good: contacts}
----
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
model-left-out
A value for each model leaves one out.
Meaning:
    A mapping from model to value has no value for a model that its owner has, or a limit has none for a model of the
    check that measures it, or no finding is left for a model.
Why:
    On that model the walk would have no step to go to, or no number to judge by.
Wrong:
    models: [Finch, Wren]
    start: {Finch: volts}
Right:
    models: [Finch, Wren]
    start: {Finch: volts, Wren: contacts}
----
model-unknown
A model is not known, or not one of the tree.
Meaning:
    A name in `models`, or a key of a mapping from model to value, is no model of the library, or the tree is not for
    it.
Why:
    With a slip in a model's name a warning or a limit would never be used.
Wrong:
    models: [Finch, Wrem]
Right:
    models: [Finch, Wren]
----
role-none
No role may do a step together with its accesses.
Meaning:
    The step and its accesses are for several roles, and no role may do what is for all of them.
Why:
    Everybody who comes to this step would be sent on to somebody else.
Wrong:
    bridge:
      check: Does the lamp light with the switch bridged?
      who: pilot
      access: [lamp-open]        # for mechanics, who are no pilots
Right:
    bridge:
      check: Does the lamp light with the switch bridged?
      who: mechanic
      access: [lamp-open]
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
step-kind
A step is not exactly one of check, fix, end and again.
Meaning:
    None of the four keys stands in the step, or two of them do.
Why:
    What is shown and asked depends on which of them it is.
Wrong:
    contacts:
      check: Are the contacts clean?
      fix: Wipe the contacts
Right:
    contacts:
      check: Are the contacts clean?
    wipe-contacts:
      fix: Wipe the contacts
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

SHAPE_PAGES = pages_in(_TABLE)
"""The pages by name."""
