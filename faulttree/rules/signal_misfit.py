"""A signal word does not fit what the notice says.

Meaning:
    A caution or a note speaks of people being hurt, or a warning speaks only of damage to things. WARNING protects
    people, CAUTION protects equipment, NOTE helps: the usage of aviation maintenance documents.

Why:
    Warnings stand first and are read first. A hurt hand below the damage to a panel is read too late; a warning about a
    scratched panel teaches people to read warnings less.

Wrong:
    sharp-ring: {signal: caution, hazard: The ring has a sharp edge, result: It cuts fingers, avoid: Wear gloves.}

Right:
    sharp-ring: {signal: warning, hazard: The ring has a sharp edge, result: It cuts fingers, avoid: Wear gloves.}
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.model import Notice
from faulttree.rules.context import Hit, Shared
from faulttree.rules.hazard_words import DAMAGE, DANGER, INJURY
from faulttree.rules.sentences import first_word


def check_library(shared: Shared) -> Iterator[Hit]:
    """At most one hit for each notice."""
    for notice in shared.library.notices.values():
        if notice.signal == "warning":
            yield from _too_high(notice)
        else:
            yield from _too_low(notice)


def _too_low(notice: Notice) -> Iterator[Hit]:
    text = notice.result if notice.signal == "caution" else " ".join(notice.text)
    if found := first_word(text, INJURY):
        message = f'the {notice.signal} "{notice.id}" speaks of people being hurt: "{found}"'
        advice = "write `signal: warning`" + (", with hazard, result and avoid" if notice.signal == "note" else "")
        yield Hit(("notices", notice.id, "signal"), message, advice)


def _too_high(notice: Notice) -> Iterator[Hit]:
    said = f"{notice.hazard}. {notice.result}."
    found = first_word(notice.result, DAMAGE)
    if found and not first_word(said, INJURY) and not first_word(said, DANGER):
        message = f'the warning "{notice.id}" speaks of damage to things alone: "{found}"'
        yield Hit(("notices", notice.id, "signal"), message, "write `signal: caution`, or say in `result` who is hurt")
