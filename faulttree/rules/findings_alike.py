"""Two findings of a check are easily mixed up.

Meaning:
    Two labels differ by few letters ("Torn" and "Worn"), or by a small word of denial alone ("Crack" and "No crack").
    Few is: at most three letters in ten of the longer one, counted as letters put in, taken out, changed or swapped,
    without the words that both have.

Why:
    A tired reader takes the one for the other, and the walk goes the wrong way from there with nothing to show it.

Wrong:
    findings: {Torn: fit-seal, Worn: fit-ring}

Right:
    findings: {Edge torn: fit-seal, Worn thin: fit-ring}
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations

from faulttree.rules.context import Context, Hit
from faulttree.rules.sentences import singular

SHARE = 0.3
"""Changed letters to letters of the longer label. Measured: see docs/decisions/0015-safety-and-wording-rules.md."""

DENIALS = frozenset(("no", "not", "non", "without", "never", "does", "do", "is", "are", "a", "any"))
PREFIXES = ("un", "in", "im", "dis", "non-")


def check(context: Context) -> Iterator[Hit]:
    """One hit for each pair, at the later one."""
    for step in context.checks:
        if step.base == step.id and len(step.findings) > 1:
            for first, second, how in alike_in(tuple(finding.label for finding in step.findings)):
                message = f'the findings "{first}" and "{second}" of "{step.id}" {how}'
                path = ("steps", step.id, "findings", second, "~")
                yield Hit(path, message, "call one of them by other words")


@lru_cache(maxsize=1024)
def alike_in(labels: tuple[str, ...]) -> tuple[tuple[str, str, str], ...]:
    """The pairs of labels that are easily mixed up, and how they differ."""
    pairs = []
    for first, second in combinations(labels, 2):
        if how := _how_alike(first.lower(), second.lower()):
            pairs.append((first, second, how))
    return tuple(pairs)


def _how_alike(first: str, second: str) -> str:
    if _denied(first, second):
        return "differ by a word of denial alone"
    first, second = _differing(first.split(), second.split())
    longer = max(len(first), len(second))
    if abs(len(first) - len(second)) <= SHARE * longer and letters_changed(first, second) <= SHARE * longer:
        return "differ by few letters"
    return ""


def _differing(first: list[str], second: list[str]) -> tuple[str, str]:
    """The labels without the words that both have, which do not tell them apart."""
    common = set(first) & set(second)
    return " ".join(word for word in first if word not in common), " ".join(
        word for word in second if word not in common
    )


def _denied(first: str, second: str) -> bool:
    """Whether the labels are the same but for small words or a prefix that deny one of them."""
    one, other = ([word for word in label.split() if word not in DENIALS] for label in (first, second))
    # "Clicks" and "No click" do not look alike; "Moves" and "Does not move" do, because "not" stands in between.
    stem = singular if "not" in first.split() or "not" in second.split() else str
    if [stem(word) for word in one] == [stem(word) for word in other]:
        return first.split() != second.split()
    if len(one) != len(other):
        return False
    differing = [(a, b) for a, b in zip(one, other, strict=True) if a != b]
    return len(differing) == 1 and any(
        a == prefix + b or b == prefix + a for a, b in differing for prefix in PREFIXES if min(len(a), len(b)) > 2
    )


def letters_changed(first: str, second: str) -> int:
    """How many letters are put in, taken out, changed, or swapped with their neighbour, to make one of the other.

    The optimal string alignment distance, a restricted form of that of Damerau (1964).
    """
    above: list[int] = []
    row = list(range(len(second) + 1))
    for at, letter in enumerate(first, start=1):
        twice_above, above, row = above, row, [at]
        for to, other in enumerate(second, start=1):
            least = min(above[to] + 1, row[to - 1] + 1, above[to - 1] + (letter != other))
            if at > 1 and to > 1 and letter == second[to - 2] and first[at - 2] == other:
                least = min(least, twice_above[to - 2] + 1)
            row.append(least)
    return row[-1]
