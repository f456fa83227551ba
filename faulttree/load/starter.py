"""The text of a new tree, and of the shared files of a new library: all that the format asks for, texts as blanks.

What an author must decide is a blank, ``___``; all else is so that the tree passes every other rule. The comments say
what belongs where.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

from faulttree.load.parse import load
from faulttree.model import Library, OperationalCheck
from faulttree.value import Value

BLANK = "___"
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""The letters of short names: I and O are too much like digits."""


class Told(Value):
    """What is known of the new tree; empty where it is to be a blank."""

    id: str
    short: str
    date: str
    symptom: str = ""
    equipment: tuple[str, ...] = ()
    urgency: str = ""
    author: str = ""


def tree_text(told: Told, library: Library, schema: str) -> str:
    """The file of a new tree. ``schema`` is what its first line names; the library must have an operational check."""
    role = library.first_role
    check = _check(library)
    urgency = told.urgency or next(iter(library.urgencies))
    equipment = "".join(f"  - {written(each)}\n" for each in told.equipment or (BLANK,))
    return f"""\
# yaml-language-server: $schema={schema}
faulttree: 1
id: {told.id}
short: {told.short}
symptom: {written(told.symptom)}
# What people also say when they mean it. The search finds the tree by these words.
also:
  - {BLANK}
equipment:
{equipment}# One of: {", ".join(library.urgencies)}
urgency: {written(urgency)}
revision: 1
date: {told.date}
status: draft
author: {written(told.author)}
# The documents, with their revisions, that you write by; then take the sign away.
# written_against: {{{_document(library)}}}

# What must be so before anything is touched.
before:
  - {BLANK}
# What is done at once, before any looking for the cause.
first_actions:
  - who: {role}
    do: {BLANK}
# What to do when nobody can wait; it needs no acknowledging.
fallback:
  - who: {role}
    do: {BLANK}
# What is reported, with blanks for what is filled in on the day.
report: {BLANK}
# Where steps go that do not say it themselves.
otherwise:
  unable: out-of-use
  failed: out-of-use
  cannot: out-of-use

# Every single thing that can be wrong, and what it would show at each check.
causes:
  first-cause:
    is: {BLANK}
    shows: {{first-look: Wrong}}
    # What the record says was found.
    found: {BLANK}

start: first-look
steps:
  first-look:
    check: {BLANK}
    do:
      - {BLANK}
    who: {role}
    minutes: 1
    # The finding in one to three words, and the step that comes next.
    findings:
      Wrong: put-right
      Right: out-of-use

  put-right:
    fix: {BLANK}
    clears: [first-cause]
    who: {written(_who(library, check.who))}
    minutes: 5
    do:
      - {BLANK}
{_data(library, _who(library, check.who))}    operational_check: {written(check.id)}
    # What the record says was done.
    did: {BLANK}

  out-of-use:
    end: out of service
{_duty(library)}    do:
      - {BLANK}
    report: {BLANK}
"""


MOST_WARNINGS = 3
"""Warnings of an operational check that may be shown in full at once, as the rule `warnings-many` counts them."""


def _check(library: Library) -> OperationalCheck:
    """The first operational check of the first role, one with few warnings before others, else the first of all."""
    checks = list(library.operational_checks.values())
    own = [each for each in checks if library.may(library.first_role, each.who)]
    few = [each for each in own if _warnings(library, each) <= MOST_WARNINGS]
    return (few or own or checks)[0]


def _warnings(library: Library, check: OperationalCheck) -> int:
    return sum(each.signal == "warning" for each in library.notices_named(check.notices))


def _document(library: Library) -> str:
    document = next(iter(library.documents.values()), None)
    return f"{document.id}: {document.revision}" if document else "DOCUMENT: REVISION"


def _who(library: Library, who: str) -> str:
    """Who does the fix: the first role, so that nobody is led into work that is not theirs before it is written."""
    return library.first_role if library.may(library.first_role, who) else who


def _data(library: Library, who: str) -> str:
    """Approved data, where another than the first role does the work: the first document as an example."""
    document = next(iter(library.documents.values()), None)
    if who == library.first_role or document is None:
        return ""
    section = json.dumps(next(iter(document.sections), "1"))
    return f"    # Which section says how: correct this.\n    data: {{{document.id}: {section}}}\n"


def _duty(library: Library) -> str:
    """What stays open at the end, where the library has duties: the first as an example, the others beside it."""
    duties = [name for name, item in library.open_items.items() if item.kind == "duty"]
    if not duties:
        return ""
    others = f", one of: {', '.join(duties)}" if len(duties) > 1 else ""
    return f"    # What remains to be done{others}.\n    opens: [{written(duties[0])}]\n"


def written(text: str) -> str:
    """A text as it may stand after a key: in plain form where that is read as the same text, else in quotes."""
    if not text:
        return BLANK
    root = load(f"a: {text}\n".encode(errors="surrogatepass"), "a.yaml")
    entries = getattr(root.root, "entries", {})
    plain = not root.problems and list(entries) == ["a"] and getattr(entries["a"].value, "value", None) == text
    switch = text.lower() in ("yes", "no", "on", "off", "true", "false", "null", "~")
    return text if plain and not switch and text[0] not in "'\"|>[{" else json.dumps(text, ensure_ascii=False)


def short_name(id: str, taken: Iterable[str]) -> str:
    """A short name that no tree has: three letters of the id in their order, else the first that is free."""
    known = set(taken)
    letters = [each for each in id.upper() if each in LETTERS]
    consonants = [each for each in letters if each not in "AEU"]
    for some in (_initials(id), consonants, letters, LETTERS):
        for name in _triples(some):
            if name not in known:
                return name
    return ""


def _initials(id: str) -> list[str]:
    return [word[0].upper() for word in id.split("-") if word and word[0].upper() in LETTERS]


def _triples(letters: Sequence[str]) -> Iterable[str]:
    count = len(letters)
    return (
        letters[a] + letters[b] + letters[c]
        for a in range(count)
        for b in range(a + 1, count)
        for c in range(b + 1, count)
    )


# -- a new library


def library_texts(date: str, schemas: str) -> dict[str, str]:
    """The shared files that a library needs before it can have a tree, by name."""
    return {
        "library.yaml": f"""\
# yaml-language-server: $schema={schemas}/library.schema.json
faulttree: 1
operator: {BLANK}
revision: 1
date: {date}

# Who may do what. The first role is the one that a walk starts with.
roles:
  crew:
    is: {BLANK}
    may:
      - {BLANK}
    may_not:
      - {BLANK}
  mechanic:
    is: {BLANK}
    may:
      - {BLANK}
    includes: [crew]

# The models of the equipment, with what they are. Names begin with a capital letter.
models:
  Model: {BLANK}

# How soon a symptom must be dealt with, the most urgent first.
urgencies:
  now: {BLANK}
  soon: {BLANK}
""",
        "operational-checks.yaml": f"""\
# yaml-language-server: $schema={schemas}/operational-checks.schema.json
faulttree: 1
operational_checks:
  works-again:
    is: {BLANK}
    do:
      - {BLANK}
    ask: {BLANK}
    who: crew
    # What the record says after it has passed, with blanks for readings.
    proved: {BLANK}
""",
    }
