"""Which problems may be let stand by a comment with a reason, and the pages about such comments.

A warning may. An error may not, because it says that somebody can be hurt, sent away without an answer, or that the
file is not what its author thinks; only the errors listed here concern nobody who follows the tree.
"""

from __future__ import annotations

from faulttree.problems import ERROR, WARNING

SIGN = "stet"
"""The word of the comment: a proofreader's mark for "let it stand"."""

ERRORS_THAT_MAY: frozenset[str] = frozenset({"header-late", "label-unclear", "step-unreachable"})
"""Errors that may be let stand: nobody meets a step that no way leads to, and these others only make work slower."""

STANDING_WARNINGS = frozenset({"stet-unused"})
"""The names of the pages below that are warnings; the others are errors."""


def may_stand(rule: str, severity: str) -> bool:
    """Whether a problem of this rule may be let stand."""
    return not rule.startswith(f"{SIGN}-") and (severity == WARNING or rule in ERRORS_THAT_MAY)


def severity_of(rule: str) -> str:
    """The severity of a page below."""
    return WARNING if rule in STANDING_WARNINGS else ERROR


STANDING_TABLE = """
stet-refused
A comment lets a problem stand that may not stand.
Meaning:
    A warning may be let stand beside its line, by `# stet RULE: reason`, and so may header-late, label-unclear and
    step-unreachable. Every other error may not.
Why:
    An error says that a cause is not found, that a hazard has no warning at all or that somebody does what is not
    theirs to do. No reason in a comment reaches the person who stands there. Where the rule is wrong about a tree, the
    tree has not said something that it can say.
Wrong:
    findings:
      Film: out-of-use          # stet cause-lost: the workshop will see it
Right:
    findings:
      Film: to-workshop         # an end that names the cause: {end: hand over, for: [contacts-dirty]}
----
stet-unknown
A comment names a rule that there is not.
Meaning:
    After `# stet` stands the name of the rule whose problem may stand, or several with commas, each in full.
Why:
    With a misspelt name nothing is let stand, and nobody would know why.
Wrong:
    findings:                   # stet finding-same: the two labels are printed on the gauge
      Red: fit-cell
Right:
    findings:                   # stet findings-same: the two labels are printed on the gauge
      Red: fit-cell
----
stet-unused
A comment lets stand what is not there.
Meaning:
    The rule that it names finds nothing at its line: at the line that it ends, or, where it stands alone, at the next
    line with anything else.
Why:
    The next problem of this rule at this place would be let stand by a reason that was given for another.
Wrong:
    findings:                   # stet findings-same: the two labels are printed on the gauge
      Red: fit-cell
      Green: wipe-contacts
Right:
    findings:
      Red: fit-cell
      Green: wipe-contacts
----
stet-without-reason
A comment lets something stand and does not say why.
Meaning:
    After the name of the rule comes a colon and, in two words or more, the reason.
Why:
    Whoever reviews the tree, or changes it next year, must be able to judge whether the reason still holds.
Wrong:
    findings:                   # stet findings-same
      Red: fit-cell
Right:
    findings:                   # stet findings-same: the two labels are printed on the gauge
      Red: fit-cell
"""
