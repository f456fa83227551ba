"""``faulttree symptoms``: the symptoms of the library, and finding one by one's own words.

Only the headers of the trees are read, and of `library.yaml` only the urgencies.
"""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING

from faulttree.cells import broken, cells
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import library_in_use, say_if_shipped
from faulttree.cli.output import Bold, out, talk, width
from faulttree.cli.parser import examples
from faulttree.library import list_headers
from faulttree.library_files import shown
from faulttree.symptoms import Listed, find, in_order, nearest_to, walkable
from faulttree.urgency import urgencies_of
from faulttree.visible import one_line

if TYPE_CHECKING:
    from pathlib import Path

    from faulttree.load.header import Header


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "List the symptoms, the most urgent first; with words, those that they fit. Words may be misspelt or stand in "
        "another form, and are looked for in the symptom, its other wordings and the equipment. Trees that were "
        "withdrawn are left out."
    )
    parser.add_argument("words", nargs="*", metavar="WORDS", help="what is seen, in your own words")
    parser.add_argument(
        "--format", choices=("text", "json", "ids"), default="text", help="default: text; ids: names alone"
    )
    parser.add_argument("--all", action="store_true", help="trees that were withdrawn as well")
    parser.epilog = examples("faulttree symptoms", "faulttree symptoms cot stuck", "faulttree symptoms --format json")


def run(args: Namespace) -> ExitCode:
    """List the symptoms."""
    folder = library_in_use(args)
    urgencies = urgencies_of(folder)
    headers = list_headers(folder)
    known = in_order(headers, list(urgencies))
    trees = known if args.all else walkable(known)
    found = find(args.words, trees) if args.words else trees
    fits = bool(found) or not args.words
    if not fits:
        found = nearest_to(args.words, trees)
    if args.format == "json":
        _json(folder, found, fits)
    elif args.format == "ids":
        for each in found if fits else ():
            out(each.id)
    else:
        _text("" if fits else _no_match(args.words, found), found or trees, urgencies)
    if args.format == "text":
        say_if_shipped(args, folder)
    _talk_of_rest(headers, found, len(known) - len(trees), args)
    return ExitCode.DONE


def _no_match(words: Sequence[str], nearest: Sequence[Listed]) -> str:
    return f'No symptom fits "{one_line(" ".join(words))}". {"The nearest" if nearest else "All"} of this library:'


def _text(heading: str, found: Sequence[Listed], urgencies: dict[str, str]) -> None:
    columns = width()
    for line in (*broken(heading, columns), "") if heading else ():
        out(line)
    left = max((cells(one_line(each.id)) for each in found), default=0)
    before = None
    for each in found:
        if each.header.urgency != before:
            if before is not None:
                out("")
            before = each.header.urgency
            for line in broken(one_line(urgencies.get(before) or before), columns):
                out(Bold(line))
        for line in _lines(each, left, columns):
            out(line)


def _lines(each: Listed, left: int, columns: int) -> list[str]:
    """A tree in one line: its id, its symptom, DRAFT; in a narrow window the symptom stands below the id."""
    mark = "" if each.header.status == "released" else f" {each.header.status.upper()}"
    wording = f' (also: "{one_line(each.wording)}")' if each.wording else ""
    text = f"{one_line(each.symptom)}{wording}{mark}"
    id = one_line(each.id)
    if left + 28 > columns:
        return [f"  {id}", *broken(text, columns, "      ", "      ")]
    first = f"  {id}{' ' * (left - cells(id))}  "
    return broken(text, columns, first, " " * (left + 4))


def _json(folder: Path, found: Sequence[Listed], fits: bool) -> None:
    from faulttree.cli.report import document

    symptoms = [{**each.header._asdict(), "file": each.file} for each in found]
    out(document({"library": shown(folder), "fits": fits, "symptoms": symptoms}))


def _talk_of_rest(
    headers: Sequence[tuple[Path, Header | None]], found: Sequence[Listed], withdrawn: int, args: Namespace
) -> None:
    """What is not in the list, and what to do next."""
    for path, header in headers:
        if header is None:
            talk(f'"{shown(path)}" is left out: its header cannot be read; "faulttree check" says why.')
    if args.format != "text":
        return
    if any(each.header.status == "released" for each in found):
        talk("No mark: released, as the file says; a walk tells whether that still holds.")
    if withdrawn:
        talk(f"Withdrawn trees are left out: {withdrawn}. List them by --all.")
    talk("Walk one by its name: faulttree walk NAME" if headers else "This library has no trees yet.")
