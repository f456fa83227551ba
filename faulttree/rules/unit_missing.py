"""A number stands without its unit.

Meaning:
    A number in a text is followed by nothing that says of what it is: it ends the sentence, or a comma or a small word
    follows. Numbers behind a name ("section 4", "no. 3", "step 2") and blanks need none.

Why:
    15 of what? A torque in the wrong unit shears the bolt.

Wrong:
    do:
      - Tighten the ring to 15.

Right:
    do:
      - Tighten the ring to 15 N·m.
"""

from __future__ import annotations

from collections.abc import Iterator

from faulttree.rules.context import Context, Hit, Shared
from faulttree.rules.prose import Prose
from faulttree.rules.sentences import has_digit
from faulttree.rules.words import lower

BARE = (
    r"(?<![\w.,/·-])(?<!\bof )(?<!no\. )(?<!nos\. )\d+(?:\.\d+)?"
    r"(?= ?(?:[;:!?)]|[.,](?!\d)|$"
    r"| (?:and|or|in|at|on|by|for|with|if|when|before|after|until|while|then|the|is|are)\b(?! ?\d)))"
)
NAMED_BEFORE = (
    r"\b(?:section|step|page|figure|fig|table|item|line|no|number|part|paragraph|chapter|revision|position|model|type|class"
    r"|grade|size|max|min|of|tree|row|level|stage|phase|sheet|note|question|answer|key|and|or|to|than)\.?\s*$"
)


def check(context: Context) -> Iterator[Hit]:
    """One hit for each number."""
    yield from _hits(context.prose)


def check_library(shared: Shared) -> Iterator[Hit]:
    """One hit for each number."""
    yield from _hits(shared.prose)


def _hits(prose: Prose) -> Iterator[Hit]:
    for path, text, _ in prose.texts if prose.has_digit else ():
        if has_digit(text):
            for found in lower(BARE).finditer(text.lower()):
                before = text[: found.start()].lower()
                if not lower(NAMED_BEFORE).search(before) or _is_compared(before):
                    yield Hit(path, f'"{found[0]}" has no unit', "write the unit behind the number")


def _is_compared(before: str) -> bool:
    """Whether the number is one that something is set to or compared with, and not a name."""
    return bool(lower(r"\b(?:set|tighten|torque|adjust|more|less|up|down)\b[^.!?]*\b(?:to|than)\s*$").search(before))
