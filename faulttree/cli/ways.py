"""``faulttree ways``: the ways through a tree, summed up, and each in words."""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Mapping, Sequence
from itertools import islice

from faulttree.cells import broken
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here, library_of_tree
from faulttree.cli.output import Bold, out, width
from faulttree.cli.parser import choice_of, examples
from faulttree.cli.report import counted
from faulttree.cli.ways_found import Summary, Wish, summary_of, ways_of, where, words_of
from faulttree.library import load_tree
from faulttree.model import Library, Tree, Variant
from faulttree.problems import ERROR, LibraryError, UsageError
from faulttree.visible import one_line

USUAL_LIMIT = 200
FEW = 20
"""So many ways are listed without being asked for."""

MOST_TO_OFFER = 10_000
"""Nobody is advised to list more ways than this."""


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Sum up the ways through a tree: how many there are, how long, and where they end. Up to 20 are listed, "
        "more on demand, in the words of the tree's file. A way stops where the next step is for another role; without "
        "--as it is read as the first role of the library. Checks that are asked of nobody on a model are left out "
        "there."
    )
    parser.add_argument("tree", metavar="TREE", help="the id of a tree, or its file")
    parser.add_argument("--as", dest="role", metavar="ROLE", help="read it as this role; default: the first role")
    parser.add_argument("--model", metavar="MODEL", help="for this model; default: each that differs")
    parser.add_argument("--to", metavar="STEP", default="", help="only ways that come to this step; the first 200")
    parser.add_argument(
        "--cause", metavar="CAUSE", default="", help="only ways that this cause may take; the first 200"
    )
    many = parser.add_mutually_exclusive_group()
    many.add_argument("--limit", type=_limit, metavar="N", help="list the first N ways; json: 200 unless said")
    many.add_argument("--all", action="store_true", help="list all ways, however many")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    parser.epilog = examples(
        "faulttree ways cot-will-not-release",
        "faulttree ways cot-will-not-release --as mechanic --cause cable-dragging",
        "faulttree ways legs-do-not-drop --as mechanic --model Alder --to fit-springs --limit 20",
        "faulttree ways cot-will-not-release --format json",
    )


def _limit(text: str) -> int:
    if not text.isdecimal() or len(text) > 9 or int(text) < 1:
        from argparse import ArgumentTypeError

        raise ArgumentTypeError(f'"{text}" is no number of ways')
    return int(text)


def run(args: Namespace) -> ExitCode:
    """List the ways."""
    library, tree = load_sound_tree(args)
    role = args.role or library.first_role
    if role not in library.roles:
        raise UsageError(f'"{role}" is no role of this library', choice_of(role, tuple(library.roles)))
    variants = _variants(tree, args.model)
    wish = Wish(role, args.to, args.cause)
    variants = _having(tree, variants, wish)
    limit = sys.maxsize if args.all else args.limit
    if limit is None and (args.to or args.cause or args.format == "json"):
        limit = USUAL_LIMIT
    if args.format == "json":
        from faulttree.cli.ways_json import list_as_json

        list_as_json(library, tree, variants, wish, limit)
        return ExitCode.DONE
    for variant in variants:
        _list(library, tree, variant, wish, limit)
    return ExitCode.DONE


def _having(tree: Tree, variants: Sequence[Variant], wish: Wish) -> Sequence[Variant]:
    """The variants that have the step and the cause that are asked for."""
    variants = _those(tree, variants, "step", wish.to, [variant.steps for variant in variants])
    return _those(tree, variants, "cause", wish.cause, [variant.causes for variant in variants])


def _those(
    tree: Tree, variants: Sequence[Variant], kind: str, name: str, names: Sequence[Mapping[str, object]]
) -> Sequence[Variant]:
    """The variants whose names have ``name``; all where none is asked for."""
    if not name:
        return variants
    known = tuple(dict.fromkeys(each for has in names for each in has))
    if name not in known:
        raise UsageError(f'"{one_line(tree.id)}" has no {kind} "{one_line(name)}"', choice_of(name, known))
    return [variant for variant, has in zip(variants, names, strict=True) if name in has]


def _variants(tree: Tree, model: str | None) -> Sequence[Variant]:
    if model is None:
        return tree.distinct_variants()
    if model not in tree.variants:
        raise UsageError(f'"{model}" is no model of "{tree.id}"', choice_of(model, tree.models))
    return (tree.variants[model],)


def load_sound_tree(args: Namespace) -> tuple[Library, Tree]:
    """The library and the tree that is named; raises `LibraryError` where their files have errors."""
    loaded = load_tree(library_of_tree(args, args.tree), args.tree, here())
    if loaded.library is None or not loaded.trees:
        errors = [problem for problem in loaded.problems if problem.severity == ERROR]
        advice = 'run "faulttree check" and mend what it finds'
        raise LibraryError(f'"{args.tree}" has problems that keep it from being read', advice, errors)
    return loaded.library, next(iter(loaded.trees.values()))


def total_of(library: Library, tree: Tree, variant: Variant, wish: Wish) -> Summary:
    """The ways summed up; raises `LibraryError` where the steps run in a circle."""
    summary = summary_of(library, variant, wish)
    if summary is None:
        raise LibraryError(f'the steps of "{tree.id}" run in a circle', 'run "faulttree check" and mend it')
    return summary


# -- in words


def _list(library: Library, tree: Tree, variant: Variant, wish: Wish, limit: int | None) -> None:
    summary = total_of(library, tree, variant, wish)
    columns = width()
    on = f" on {variant.model}" if not tree.alike or len(tree.models) == 1 else ""
    heading = f"{one_line(tree.symptom)}{on}, as {wish.role}{_only(wish)}: {counted(summary.total, 'way')}"
    for line in broken(heading, columns):
        out(Bold(line))
    _sum_up(library, variant, summary, columns)
    out("")
    most = limit if limit is not None else summary.total if summary.total <= FEW else 0
    for number, way in enumerate(islice(ways_of(library, variant, wish), most), 1):
        out(f"Way {number}")
        for text in words_of(library, variant, way):
            for line in broken(one_line(text), columns, "  ", "    "):
                out(line)
        out("")
    if summary.total > most:
        for line in broken(_rest(summary.total, most, wish), columns):
            out(line)
        out("")


def _only(wish: Wish) -> str:
    """Which ways these are, where not all are wished for."""
    to = f', to "{one_line(wish.to)}"' if wish.to else ""
    return to + (f', with the cause "{one_line(wish.cause)}"' if wish.cause else "")


def _sum_up(library: Library, variant: Variant, summary: Summary, columns: int) -> None:
    """The shortest and the longest, and where the ways stop, most first."""
    if not summary.total:
        return
    longest = f", the longest {summary.longest}" if summary.longest != summary.shortest else ""
    for line in broken(f"The shortest has {counted(summary.shortest, 'step')}{longest}. They end at:", columns):
        out(line)
    counts = [_short(count) for count in summary.stops.values()]
    room = max(map(len, counts))
    for count, stop in zip(counts, summary.stops, strict=True):
        words = one_line(f"{where(library, variant, stop)} ({stop.last})")
        for line in broken(words, columns, f"  {count.rjust(room)}  ", " " * (room + 4)):
            out(line)


def _short(count: int) -> str:
    return counted(count, "way").removesuffix("s").removesuffix(" way")


def _rest(total: int, listed: int, wish: Wish) -> str:
    """How to come to the ways that are not listed."""
    few = "--to STEP or --cause CAUSE lists some"
    every = "--all lists all" if total <= MOST_TO_OFFER else "--limit N lists the first ones"
    if wish.to or wish.cause:
        return f"These are {listed} of {counted(total, 'way')}; {every}."
    if not listed:
        return f"They are many, so none is listed: {few}, {every}."
    return f"These are {listed} of {counted(total, 'way')}; {every}, {few}."
