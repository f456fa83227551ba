"""A number stands without its unit.

Meaning:
    A number in a text is followed by nothing that says of what it is: it ends the sentence, or a comma or a small word
    follows. Blanks need none, nor does a number directly behind a noun, for that is a name: "section 4", "no. 3",
    "buttons 1, 2 and 3". Behind a quantity ("torque 15") or a word that measures ("weighs 42") it does.

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
from faulttree.rules.words import ALSO_NOUNS, FUNCTION_WORDS, MEASURES, QUANTITIES, VERBS, lower

BARE = (
    r"(?<![\w.,/·-])(?<!\bof )(?<!no\. )(?<!nos\. )\d+(?:\.\d+)?"
    r"(?= ?(?:[;:!?)]|[.,](?!\d)|$"
    r"| (?:and|or|in|at|on|by|for|with|if|when|before|after|until|while|then|the|is|are)\b(?! ?\d)))"
)
REACH = 80
"""Characters before a number that tell what it is; all of them would be read anew for each number of a long text."""

COUNTED_UP = r"(?:\d+(?:\.\d+)?\s*(?:,\s*(?:and|or)\b|,|\band\b|\bor\b|\bto\b|-|–)\s*)+$"
"""The numbers before the last of "1, 2 and 3": what the first is behind, the last is behind."""
BEHIND = r"([^\W\d_]+)(\.?)\s*$"
BEHIND_A_BLANK = r"___ \S+ \(\s*$"
"""The limits of a reading, which has its unit: "___ mm (2 to 5)"."""
SHORT_FORMS = frozenset(("no", "nos", "fig", "figs", "pos", "ref", "sect", "max", "min"))
NO_VALUE = frozenset(("of", "one", "number", "max", "min"))
"""Small words that a number may follow: "one of 3", "number 3"."""

NO_NAMES = FUNCTION_WORDS | MEASURES | QUANTITIES | (VERBS - ALSO_NOUNS)
"""What a number may stand behind without being a name."""


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
                before = text[max(0, found.start() - REACH) : found.start()].lower()
                if not _is_name(before):
                    yield Hit(path, f'"{found[0]}" has no unit', "write the unit behind the number")


def _is_name(before: str) -> bool:
    """Whether a number behind this text is the name of a thing, and not a value."""
    first = lower(COUNTED_UP).sub("", before)
    behind = lower(BEHIND).search(first)
    if not behind:
        # "10 or 11 turns on one, 12 or 13 on the other": of what was said before.
        of_before = first != before and before.rstrip().endswith(("and", "or"))
        return of_before or lower(BEHIND_A_BLANK).search(first) is not None
    word, point = behind.groups()
    if point or word in NO_VALUE:
        return word in NO_VALUE or word in SHORT_FORMS
    return word not in NO_NAMES and not word.endswith("ly")
