"""Pages of what keeps a tree from being built: repeated steps, models that are left out, bands, and roles."""

from __future__ import annotations

STEPS_TABLE = """
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
"""
