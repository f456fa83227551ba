"""Which rules a run of ``faulttree check`` tells of: ``--select`` and ``--ignore``, by names and their beginnings.

They choose what is told, not what is true. What is left out is counted, an error that may not be let stand keeps the
exit code at 1, and what keeps a file from being read is told in any case, because nothing else was looked at there.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Sequence

from faulttree.cli.parser import did_you_mean
from faulttree.problems import ERROR, Problem, UsageError
from faulttree.rules.standing import may_stand
from faulttree.value import Value


def add_options(parser: ArgumentParser) -> None:
    """The two options."""
    for name, what in (("--select", "tell only of these rules"), ("--ignore", "do not tell of these rules")):
        text = f"{what}: names or their beginnings, with commas; may be given again"
        parser.add_argument(name, metavar="RULES", action="append", default=[], help=text)


class Selection(Value):
    """The beginnings of names that are asked for, and of those that are not; empty means all, and none."""

    select: tuple[str, ...] = ()
    ignore: tuple[str, ...] = ()

    def tells(self, problem: Problem) -> bool:
        """Whether the problem is told of."""
        if not self.select and not self.ignore:
            return True
        return _keeps_from_reading(problem) or (
            (not self.select or problem.rule.startswith(self.select)) and not problem.rule.startswith(self.ignore)
        )


def _keeps_from_reading(problem: Problem) -> bool:
    from faulttree.rules.reading import READING_PAGES
    from faulttree.rules.standing import SIGN

    return problem.rule in READING_PAGES and problem.severity == ERROR and not problem.rule.startswith(f"{SIGN}-")


def selection_of(args: Namespace) -> Selection:
    """What the words of the command choose; raises `UsageError` where nothing has such a name."""
    if not args.select and not args.ignore:
        return Selection()
    return Selection(_names("--select", args.select), _names("--ignore", args.ignore))


def _names(option: str, given: Sequence[str]) -> tuple[str, ...]:
    from faulttree.rules.pages import names

    found = [name.strip().lower() for each in given for name in each.split(",")]
    for name in found:
        if not name or not any(known.startswith(name) for known in names()):
            advice = did_you_mean(name, names()) or '"faulttree explain" lists the rules'
            raise UsageError(f'{option}: no rule is called "{name}" or begins so', advice)
    return tuple(found)


def weighs(problems: Iterable[Problem]) -> list[Problem]:
    """The problems that count although they are not told of: errors that may not be let stand."""
    return [each for each in problems if each.severity == ERROR and not may_stand(each.rule, each.severity)]
