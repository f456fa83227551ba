"""``faulttree release``: mark a tree as released, with who, when and the digest of what it means."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from datetime import date

from faulttree.cells import broken
from faulttree.cli.checked import look_at
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here, library_of_tree, need_own_library
from faulttree.cli.output import Bold, out, talk, width
from faulttree.cli.parser import examples
from faulttree.cli.targets import Target
from faulttree.library import tree_path
from faulttree.library_files import is_file, shown
from faulttree.model import Tree
from faulttree.releases import Prepared, prepare, write
from faulttree.visible import one_line


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Write into a tree's file that it is released: by whom, when, and the digest of its meaning with all shared "
        "entries that it uses. Whoever releases is not its author. A tree with errors or warnings is refused; a "
        "warning that somebody stands by is let stand with its reason, by a comment: # stet RULE: reason.\n\n"
        "Whatever changes in meaning afterwards, in the tree or in a shared entry that it uses, makes it a draft "
        "again, and so does another revision of a document in written_against. The name is a statement and is checked "
        "against nothing."
    )
    parser.add_argument("tree", metavar="TREE", help="the id of a tree, or its file")
    parser.add_argument("--by", required=True, metavar="NAME", help="who releases it")
    parser.add_argument("--date", type=_day, metavar="DATE", help="the day, as 2026-11-25; default: today")
    parser.add_argument("-n", "--dry-run", action="store_true", help="show what would be written, write nothing")
    parser.epilog = examples(
        'faulttree release wheel-thumps --by "B. Tarn" --dry-run',
        'faulttree release trees/wheel-thumps.yaml --by "B. Tarn"',
    )


def _day(text: str) -> date:
    from faulttree.dates import is_date

    if not is_date(text):
        raise ArgumentTypeError(f'"{text}" is no day, as in 2026-11-25')
    return date.fromisoformat(text)


def run(args: Namespace) -> ExitCode:
    """Release the tree."""
    if not args.dry_run and not is_file(here() / args.tree):
        need_own_library(args)
    folder = library_of_tree(args, args.tree)
    path = tree_path(folder, args.tree, here())
    result = look_at(Target(folder, (path,)))
    named = next((id for id in result.trees if result.loaded.files[result.loaded.tree_files[id]].path == path), "")
    today = date.today()
    before = result.loaded.trees.get(named)
    prepared = prepare(result.loaded, named or args.tree, result.problems, args.by, args.date or today, today)
    if not args.dry_run:
        write(prepared)
    _tell(prepared, before, args.dry_run)
    return ExitCode.DONE


def _tell(prepared: Prepared, before: Tree | None, dry: bool) -> None:
    tree, released = prepared.tree, prepared.released
    verb = "Would be released" if dry else "Released"
    lines = [f"{verb}: {tree.id}, revision {tree.revision}", f"by {released.by} on {released.date}"]
    lines.append(f"digest {released.digest}")
    out(Bold(one_line(lines[0])))
    for line in lines[1:]:
        for part in broken(one_line(line), width(), "  ", "    "):
            out(part)
    if before and before.released:
        old = before.released
        what = f"It {'would replace' if dry else 'replaces'} the release by {old.by} of {old.date}."
        for part in broken(one_line(what), width()):
            talk(part)
    file = one_line(shown(prepared.path))
    said = f'Nothing was written to "{file}".' if dry else f'It is written in "{file}"; commit that file.'
    for part in broken(said, width()):
        talk(part)
