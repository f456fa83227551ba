"""What changed in meaning between two libraries or trees: typed changes with a weight, never a difference of text.

`compare` takes two sides and gives a `Comparison`. What was only renamed is recognised first (`renaming`); headers,
steps and shared entries are compared field by field (`heads`, `steps`, `shared`, by the judges of `judges`); what
follows for causes, open items and the longest way is worked out (`figures`).
"""

from __future__ import annotations

from faulttree.compare.changes import JUDGE, OTHER, WEAKER, WEIGHTS, Change
from faulttree.compare.comparing import Comparison, Side, compare, paired_trees
from faulttree.compare.figures import Longest, longest_minutes

__all__ = [
    "JUDGE", "OTHER", "WEAKER", "WEIGHTS", "Change", "Comparison", "Longest", "Side", "compare", "longest_minutes",
    "paired_trees",
]  # fmt: skip
