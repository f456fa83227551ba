"""``faulttree draw``: trees as drawings to review, in ink, on pages of A4 or A3."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Collection, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from faulttree.cli.exits import ExitCode
from faulttree.cli.figures import Job, jobs_of, loaded_for
from faulttree.cli.in_use import here
from faulttree.cli.output import out, talk, width
from faulttree.cli.parser import examples
from faulttree.problems import UsageError
from faulttree.visible import one_line

if TYPE_CHECKING:
    from faulttree.cli.drawing import Layout
    from faulttree.draw.figure import Figure
    from faulttree.draw.index import Drawn
    from faulttree.library import LoadedLibrary

FORMATS = ("svg", "png", "pdf", "dot", "list")
SUFFIXES = {".svg": "svg", ".png": "png", ".pdf": "pdf", ".dot": "dot", ".gv": "dot", ".txt": "list"}
EXTENSIONS = {"list": "txt"}
INDEX = "index.html"


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Draw a tree for review, as one role can reach it: what it does, and where it hands over. Large trees are "
        "split into parts that can be read on paper. Without -o the files are written into the current folder; their "
        "names are printed. svg, png and pdf are laid out by the program dot of graphviz, else svg and png by what "
        "the extra draw brings; dot and list need no program. Minutes and shares are for the desk, not for the crew."
    )
    parser.add_argument("tree", metavar="TREE", nargs="?", help="the id of a tree, or its file")
    parser.add_argument("--all", action="store_true", help="every tree, for every role that begins; with an index page")
    parser.add_argument("--as", dest="role", metavar="ROLE", help="as this role can reach it; default: the first role")
    parser.add_argument("--model", metavar="MODEL", help="for this model; default: each that differs")
    parser.add_argument("--against", metavar="OLD", help="mark what changed since OLD: a file, a folder, or REV:path")
    parser.add_argument("--no-figures", action="store_true", help="without minutes and shares")
    parser.add_argument("--format", choices=FORMATS, help="default: what -o ends in, else svg")
    parser.add_argument("--paper", choices=("A3", "A4"), default="A3", help="the largest page; default: A3")
    parser.add_argument("--dot", metavar="PROGRAM", help="lay out with this program instead of the dot that is found")
    parser.add_argument("-o", "--output", metavar="FILE|DIR", help="write to this file or folder; - is stdout")
    parser.epilog = examples(
        "faulttree draw legs-do-not-drop --format dot -o -",
        "faulttree draw legs-do-not-drop --as mechanic --model Bracken --format list -o -",
        "faulttree draw --all --format list -o drawings",
    )


def run(args: Namespace) -> ExitCode:
    """Draw, write, and print the names of what was written."""
    kind = _format(args)
    loaded = loaded_for(args)
    if kind in ("dot", "list"):
        return _write(args, loaded, kind, None)
    from faulttree.cli.drawing import Layout

    with Layout(args.dot, args.paper) as layout:
        layout.begin()
        return _write(args, loaded, kind, layout)


def _write(args: Namespace, loaded: LoadedLibrary, kind: str, layout: Layout | None) -> ExitCode:
    jobs = list(jobs_of(args, loaded))
    if args.output == "-":
        return _to_stdout(args, jobs, kind, layout)
    return _to_files(args, loaded, jobs, kind, layout)


def _format(args: Namespace) -> str:
    if bool(args.all) == bool(args.tree):
        raise UsageError("name one tree, or --all", 'list the trees with "faulttree symptoms"')
    _check_name(args.output or "")
    ending = Path(args.output or "").suffix.lower()
    suffix = SUFFIXES.get(ending)
    if ending and not suffix and not (here() / args.output).is_dir():
        raise UsageError(f'"{ending}" is no format', f"end the name in {', '.join(SUFFIXES)}, or name a folder without")
    if args.format and suffix and suffix != args.format:
        raise UsageError(f'"{args.output}" is no name for {args.format}', "leave --format out, or change the name")
    if args.all and (suffix or args.output in (None, "-")):
        raise UsageError("--all draws many files", "name a folder by -o DIR")
    kind = str(args.format or suffix or "svg")
    if args.output == "-" and kind in ("png", "pdf"):
        raise UsageError(f"{kind} is no text", f"name a file by -o NAME.{kind}")
    return kind


def _check_name(name: str) -> None:
    """Refuse what can be the name of no file, before anything is drawn."""
    import os

    try:
        os.fsencode(name)
    except UnicodeEncodeError:
        name = "\0"
    if "\0" in name:
        raise UsageError("the name after -o is no name for a file", "name a file or a folder")


# -- where it goes


def _to_stdout(args: Namespace, jobs: list[Job], kind: str, layout: Layout | None) -> ExitCode:
    if kind == "list":
        from faulttree.draw.outline import in_lines

        for job in jobs:
            for line in in_lines(job.figure, width()):
                out(line)
            out("")
        return ExitCode.DONE
    if kind == "dot":
        from faulttree.draw.dot import dot_text
        from faulttree.draw.plan import planned

        for job in jobs:
            out(dot_text(planned(job.figure, args.paper)), end="")
        return ExitCode.DONE
    assert layout is not None
    pages = [page for job in jobs for page in layout.pages(job.figure, kind)]
    if len(pages) == 1:
        out(pages[0].decode(), end="")
        return ExitCode.DONE
    raise UsageError(f"these are {len(pages)} drawings", "name a folder by -o DIR")


def _to_files(args: Namespace, loaded: LoadedLibrary, jobs: list[Job], kind: str, layout: Layout | None) -> ExitCode:
    from faulttree.draw.index import Drawn

    target = Path(here() / args.output) if args.output else here()
    single = bool(args.output) and target.suffix.lower() in SUFFIXES
    if single and len(jobs) > 1:
        raise UsageError(
            f"these are {len(jobs)} drawings, one for each model that differs",
            "choose one by --model, or name a folder",
        )
    folder = target.parent if single else target
    if args.all:
        _refuse_other_page(folder)
    drawn: list[Drawn] = []
    for job in jobs:
        stem, suffix = (target.stem, target.suffix) if single else (job.name, "")
        files = _written(_pages(args, job.figure, kind, layout), kind, folder, stem, suffix)
        drawn.append(Drawn(job.figure, files))
    if args.all:
        _index(loaded, folder, drawn)
    return ExitCode.DONE


def _pages(args: Namespace, figure: Figure, kind: str, layout: Layout | None) -> list[bytes]:
    """The files of a drawing."""
    if layout:
        return layout.pages(figure, kind)
    if kind == "list":
        from faulttree.draw.outline import in_lines

        return [("\n".join(in_lines(figure, 100)) + "\n").encode()]
    from faulttree.draw.dot import dot_text
    from faulttree.draw.plan import planned

    return [dot_text(planned(figure, args.paper)).encode()]


def _written(pages: Sequence[bytes], kind: str, folder: Path, stem: str, suffix: str) -> tuple[str, ...]:
    """Write the files of a drawing; returns their names."""
    from faulttree.writing import write_file

    ending = suffix or f".{EXTENSIONS.get(kind, kind)}"
    numbers = [""] if len(pages) == 1 else [f"-{number}" for number in range(1, len(pages) + 1)]
    names = tuple(f"{stem}{number}{ending}" for number in numbers)
    for name, data in zip(names, pages, strict=True):
        write_file(folder / name, data)
        _say(folder / name)
    _warn_of_older(folder, stem, ending, names)
    return names


def _warn_of_older(folder: Path, stem: str, ending: str, names: Collection[str]) -> None:
    """Tell of parts of an earlier drawing that was split otherwise: they stay, as they may be somebody's."""
    import re

    part = re.compile(re.escape(stem) + r"(-[0-9]+)?" + re.escape(ending))
    older = sorted(each.name for each in folder.iterdir() if part.fullmatch(each.name) and each.name not in names)
    if older:
        talk(one_line(f"Of an earlier drawing, split otherwise; delete what is no longer wanted: {', '.join(older)}"))


def _refuse_other_page(folder: Path) -> None:
    """Refuse to write over an index page that is not ours, before anything is drawn."""
    from faulttree.draw.index import GENERATOR
    from faulttree.library_files import is_file, read_bytes

    if is_file(folder / INDEX) and GENERATOR.encode() not in read_bytes(folder / INDEX):
        raise UsageError(f'"{INDEX}" in that folder is another page', "name another folder by -o DIR")


def _index(loaded: LoadedLibrary, folder: Path, drawn: list[Drawn]) -> None:
    from faulttree.draw.index import index_page
    from faulttree.writing import write_file

    assert loaded.library is not None
    page = index_page(loaded.library.operator, loaded.library.revision, drawn)
    write_file(folder / INDEX, page.encode())
    _say(folder / INDEX)


def _say(path: Path) -> None:
    try:
        out(one_line(str(path.relative_to(here()))))
    except ValueError:
        out(one_line(str(path)))
