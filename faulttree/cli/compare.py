"""``faulttree compare``: what changed in meaning, for a reviewer."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence

from faulttree.cells import broken
from faulttree.checking import check_library
from faulttree.cli.exits import ExitCode
from faulttree.cli.output import Bold, Line, out, talk, width
from faulttree.cli.parser import examples
from faulttree.cli.report import document
from faulttree.cli.sides import Named, sides
from faulttree.compare import JUDGE, OTHER, WEAKER, WEIGHTS, Change, Comparison, Longest, compare
from faulttree.compare.shared import in_file
from faulttree.compare.telling import HEADINGS, plain_words, users, words_of
from faulttree.present.blocks import one_or_more
from faulttree.problems import ERROR, UsageError
from faulttree.visible import one_line

MARKS = {WEAKER: "!", JUDGE: "~", OTHER: "."}


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Say what changed in meaning from OLD to NEW: steps, findings, ways, wording, limits, torques, documents and "
        "shared entries; causes that are no longer reached, and the longest way. First comes what protects and became "
        "weaker: warnings removed or moved later, roles lowered, limits widened, gates opened, ways that now lead to a "
        "deferral, checks left out before one, intervals that are not surely as short. Layout, comments and the order "
        "of files are no change.\n\n"
        "OLD and NEW are files, folders, or REV:path of git, where all of the library is read from that revision. The "
        "path counts from the top of the repository; with ./ in front, from the current folder. A folder is its whole "
        "library; a tree's file is that tree with the shared entries that it uses, read with the library around it.\n\n"
        "Exit 1 where something that protects became weaker, else 0; 2 where a side cannot be read. Nothing weaker "
        "does not say that the change is right: that is for the reviewer."
    )
    parser.add_argument("old", metavar="OLD", help="a file, a folder, or REV:path")
    parser.add_argument("new", metavar="NEW", help="a file, a folder, or REV:path")
    parser.add_argument(
        "--format", choices=("text", "markdown", "json"), default="text", help="default: text; markdown: a pull request"
    )
    parser.epilog = examples(
        "faulttree compare HEAD:trees trees",
        "faulttree compare HEAD:trees/wheel-thumps.yaml trees/wheel-thumps.yaml",
        "faulttree compare HEAD:trees trees --format markdown",
    )


def run(args: Namespace) -> ExitCode:
    """Compare, and tell what changed."""
    with sides(args) as (old, new):
        comparison = _compared(old, new)
        for named in (old, new):
            _tell_of_errors(named)
    tell = {"text": _text, "markdown": _markdown, "json": _json}[args.format]
    tell(args, comparison)
    return ExitCode.PROBLEMS if comparison.is_weaker else ExitCode.DONE


def _tell_of_errors(named: Named) -> None:
    """Names that lead nowhere can be read in two ways, so what is told of such a side may not be what is meant."""
    trees = {named.tree} if named.tree else None
    count = sum(problem.severity == ERROR for problem in check_library(named.loaded, trees))
    if count:
        said = f'"{named.word}" has {one_or_more(count, "error")}: mend them first, what is told here may mislead.'
        for part in broken(one_line(f'{said} "faulttree check" shows them.'), width()):
            talk(part)


def _compared(old: Named, new: Named) -> Comparison:
    if old.is_shared or new.is_shared:
        return _of_shared_files(old, new)
    if not old.tree and not new.tree:
        return compare(old.side, new.side)
    pair = (old.tree or new.tree, new.tree or old.tree)
    for named, name in zip((old, new), pair, strict=True):
        if name not in named.side.trees:
            raise UsageError(f'there is no tree "{name}" in "{named.word}"', "name the file of a tree on both sides")
    return compare(old.side, new.side, [pair])


def _of_shared_files(old: Named, new: Named) -> Comparison:
    kinds = [each.file.stem for each in (old, new) if each.file is not None and each.is_shared]
    if len(kinds) < 2 or kinds[0] != kinds[1]:
        advice = "name two files of one kind, or both folders"
        raise UsageError(f'"{old.word}" and "{new.word}" are not of one kind', advice)
    return compare(old.side, new.side, shared=in_file(kinds[0]))


# -- in words


def total(comparison: Comparison) -> str:
    """What was found, in a sentence."""
    if not comparison.changes:
        return "No change in meaning."
    weaker, judge, other = (len(comparison.of(weight)) for weight in WEIGHTS)
    return f"Changes in meaning: {weaker} weaker, {judge} to be judged, {other} other."


def _groups(changes: Sequence[Change]) -> Iterator[tuple[str, list[Change]]]:
    """The changes by tree; shared entries under their own heading, first."""
    for tree in dict.fromkeys(change.tree for change in changes):
        yield tree or "shared entries", [change for change in changes if change.tree == tree]


# -- text


def _text(args: Namespace, comparison: Comparison) -> None:
    columns = width()
    for weight in WEIGHTS:
        changes = comparison.of(weight)
        if changes:
            out(Bold(f"{HEADINGS[weight]}: {len(changes)}"))
            for line in _lines(changes, MARKS[weight], columns):
                out(*line)
            out("")
    if comparison.other_longest:
        out(Bold("Longest way, in minutes"))
        for each in comparison.other_longest:
            for part in broken(one_line(_longest(each)), columns, "  ", "    "):
                out(part)
        out("")
    for part in broken(total(comparison), columns):
        out(part)


def _lines(changes: Sequence[Change], mark: str, columns: int) -> Iterator[Line]:
    for tree, group in _groups(changes):
        yield "  ", one_line(tree)
        for change in group:
            yield from ((part,) for part in broken(plain_words(change), columns, f"  {mark} ", "      "))
            for sign, text in (("-", change.before), ("+", change.after)):
                if text:
                    yield from ((part,) for part in broken(one_line(text), columns, f"      {sign} ", "        "))
            if change.used_by is not None:
                yield from ((part,) for part in broken(users(change.used_by), columns, "      ", "        "))


def _longest(each: Longest) -> str:
    return f"{each.tree} on {each.model}: {_minutes(each)}"


def _minutes(each: Longest) -> str:
    before, after = ("none" if side is None else f"{side:g}" for side in (each.before, each.after))
    return f"{before} before, {after} after"


# -- markdown


def _markdown(args: Namespace, comparison: Comparison) -> None:
    from faulttree.cli.markdown import page

    for line in page(comparison, HEADINGS, total(comparison), _minutes):
        out(line)


# -- JSON


def _json(args: Namespace, comparison: Comparison) -> None:
    values = {
        "old": args.old,
        "new": args.new,
        **{weight.replace(" ", "_"): len(comparison.of(weight)) for weight in WEIGHTS},
        "changes": [_as_json(change) for change in comparison.changes],
        "longest_minutes": [
            {"tree": each.tree, "model": each.model, "before": each.before, "after": each.after}
            for each in comparison.longest
        ],
    }
    out(document(values))


def _as_json(change: Change) -> dict[str, object]:
    return {
        "weight": change.weight,
        "kind": change.kind,
        "tree": change.tree or None,
        "sort": change.sort,
        "subjects": list(change.subjects),
        "models": list(change.models),
        "message": words_of(change, [f'"{name}"' for name in change.names]),
        "names": list(change.names),
        "before": change.before or None,
        "after": change.after or None,
        "used_by": None if change.used_by is None else list(change.used_by),
    }
