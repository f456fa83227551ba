"""``faulttree draw``: trees as drawings to review, in ink, on pages of A4 or A3."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here, library_in_use
from faulttree.cli.output import out, width
from faulttree.cli.parser import did_you_mean, examples
from faulttree.problems import LibraryError, UsageError
from faulttree.visible import one_line

if TYPE_CHECKING:
    from faulttree.draw.figure import Figure
    from faulttree.draw.index import Drawn
    from faulttree.library import LoadedLibrary
    from faulttree.model import Library, Tree, Variant

FORMATS = ("svg", "png", "pdf", "dot", "list")
SUFFIXES = {".svg": "svg", ".png": "png", ".pdf": "pdf", ".dot": "dot", ".gv": "dot", ".txt": "list"}
EXTENSIONS = {"list": "txt"}


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


class Job(NamedTuple):
    """One drawing: the figure, and the name of its files without part and ending."""

    figure: Figure
    name: str


def run(args: Namespace) -> ExitCode:
    """Draw, write, and print the names of what was written."""
    kind = _format(args)
    loaded = _loaded(args)
    jobs = list(_jobs(args, loaded))
    if args.output == "-":
        return _to_stdout(args, jobs, kind)
    return _to_files(args, loaded, jobs, kind)


def _format(args: Namespace) -> str:
    if bool(args.all) == bool(args.tree):
        raise UsageError("name one tree, or --all", 'list the trees with "faulttree symptoms"')
    _check_name(args.output or "")
    suffix = SUFFIXES.get(Path(args.output or "").suffix.lower())
    if args.format and suffix and suffix != args.format:
        raise UsageError(f'"{args.output}" is no name for {args.format}', "leave --format out, or change the name")
    if args.all and (suffix or args.output in (None, "-")):
        raise UsageError("--all draws many files", "name a folder by -o DIR")
    return str(args.format or suffix or "svg")


def _check_name(name: str) -> None:
    """Refuse what can be the name of no file, before anything is drawn."""
    import os

    try:
        os.fsencode(name)
    except UnicodeEncodeError:
        name = "\0"
    if "\0" in name:
        raise UsageError("the name after -o is no name for a file", "name a file or a folder")


# -- what is drawn


def _loaded(args: Namespace) -> LoadedLibrary:
    from faulttree.cli.ways import load_sound_tree
    from faulttree.library import LoadedLibrary, load_library

    if not args.all:
        library, tree = load_sound_tree(args)
        return LoadedLibrary(Path(), library, {tree.id: tree}, (), {}, {})
    loaded = load_library(library_in_use(args))
    _need_sound(loaded, str(loaded.folder))
    return loaded


def _need_sound(loaded: LoadedLibrary, name: str) -> None:
    from faulttree.problems import ERROR

    errors = [problem for problem in loaded.problems if problem.severity == ERROR]
    if loaded.library is None or errors:
        raise LibraryError(f'"{name}" has problems that keep it from being drawn', 'run "faulttree check"', errors)


def _jobs(args: Namespace, loaded: LoadedLibrary) -> Iterator[Job]:
    assert loaded.library is not None
    for tree in loaded.trees.values():
        for variant in _variants(args, tree):
            for role in _roles(args, loaded.library, variant):
                figure = _figure(args, loaded.library, tree, variant, role)
                model = "" if len(tree.distinct_variants()) == 1 else f"-{variant.model}"
                yield Job(figure, f"{tree.id}{model}-{role}")


def _variants(args: Namespace, tree: Tree) -> tuple[Variant, ...]:
    if args.model is None:
        return tree.distinct_variants()
    if args.model in tree.variants:
        return (tree.variants[args.model],)
    if args.all:
        return ()
    raise UsageError(f'"{args.model}" is no model of "{tree.id}"', _choice(args.model, tree.models))


def _choice(word: str, known: tuple[str, ...]) -> str:
    return did_you_mean(word, known) or f"choose one of: {', '.join(known)}"


def _roles(args: Namespace, library: Library, variant: Variant) -> list[str]:
    """The role that is asked for; with --all each that may begin, unless it reaches no more than one before it."""
    if args.role:
        if args.role not in library.roles:
            raise UsageError(f'"{args.role}" is no role of this library', _choice(args.role, tuple(library.roles)))
        return [args.role]
    if not args.all:
        return [library.first_role]
    from faulttree.draw.make import reached_by
    from faulttree.reach import for_other

    found: dict[object, str] = {}
    for role in library.roles:
        if not for_other(library, variant.steps[variant.start], role):
            reached = reached_by(library, variant, role)
            met = frozenset(name for name in reached if for_other(library, variant.steps[name], role))
            found.setdefault((reached, met), role)
    return list(found.values()) or [library.first_role]


def _figure(args: Namespace, library: Library, tree: Tree, variant: Variant, role: str) -> Figure:
    from faulttree.draw.make import Wish, figure_of

    wish = Wish(role, not args.no_figures, facts=args.against is not None)
    figure = figure_of(library, _acyclic(tree, variant), variant, wish)
    if args.against is None:
        return figure
    from faulttree.draw.against import against

    old_library, old = _old(args, tree.id)
    if variant.model not in old.variants:
        raise UsageError(f'"{args.against}" has no model "{variant.model}"', f"choose one of: {', '.join(old.models)}")
    if role not in old_library.roles:
        raise UsageError(f'"{args.against}" has no role "{role}"', f"choose one of: {', '.join(old_library.roles)}")
    before = old.variants[variant.model]
    return against(
        figure_of(old_library, _acyclic(old, before), before, wish), figure, f"revision {old.revision} ({args.against})"
    )


def _acyclic(tree: Tree, variant: Variant) -> Tree:
    from faulttree.graph import graph_of

    if not graph_of(variant).order:
        raise LibraryError(f'the steps of "{tree.id}" run in a circle', 'run "faulttree check" and mend it')
    return tree


def _old(args: Namespace, tree: str) -> tuple[Library, Tree]:
    """The tree to compare with: the file that is named, or the tree of the same id in the library that is named."""
    from faulttree.cli.ways import load_sound_tree
    from faulttree.library_files import is_file
    from faulttree.revisions import split_revision

    if not args.against.strip():
        raise UsageError("--against names nothing", "name the file of a tree, the folder of a library, or REV:path")
    if not (here() / args.against).exists() and split_revision(args.against):
        return _old_of_revision(args, tree)
    is_tree = is_file(here() / args.against)
    place = {} if is_tree else {"library": args.against}
    asked = Namespace(**{**vars(args), "tree": args.against if is_tree else tree, "library": None, **place})
    return load_sound_tree(asked)


def _old_of_revision(args: Namespace, tree: str) -> tuple[Library, Tree]:
    from faulttree.cli.sides import side_of_revision

    with side_of_revision(args.against, args) as named:
        old = named.side.trees.get(named.tree or tree)
    if old is None:
        raise UsageError(f'there is no tree "{tree}" in "{args.against}"', "name the file of a tree, as REV:path")
    return named.side.library, old


# -- where it goes


def _to_stdout(args: Namespace, jobs: list[Job], kind: str) -> ExitCode:
    if kind == "list":
        from faulttree.draw.outline import in_lines

        for job in jobs:
            for line in in_lines(job.figure, width()):
                out(line)
            out("")
        return ExitCode.DONE
    if kind == "dot":
        from faulttree.draw.dot import dot_text, planned

        for job in jobs:
            out(dot_text(planned(job.figure, args.paper)), end="")
        return ExitCode.DONE
    if kind == "svg":
        from faulttree.cli.drawing import Layout

        pages = [page for job in jobs for page in Layout(args.dot, args.paper).pages(job.figure, kind)]
        if len(pages) == 1:
            out(pages[0].decode(), end="")
            return ExitCode.DONE
        raise UsageError(f"these are {len(pages)} drawings", "name a folder by -o DIR")
    raise UsageError(f"{kind} is no text", f"name a file by -o NAME.{kind}")


def _to_files(args: Namespace, loaded: LoadedLibrary, jobs: list[Job], kind: str) -> ExitCode:
    from faulttree.draw.index import Drawn

    target = Path(here() / args.output) if args.output else here()
    single = bool(args.output) and target.suffix.lower() in SUFFIXES
    if single and len(jobs) > 1:
        raise UsageError(
            f"these are {len(jobs)} drawings, one for each model that differs",
            "choose one by --model, or name a folder",
        )
    folder = target.parent if single else target
    drawn: list[Drawn] = []
    for job in jobs:
        files = _draw(args, job, kind, folder, target.stem if single else job.name, target.suffix if single else "")
        drawn.append(Drawn(job.figure, files))
    if args.output and not single:
        _index(loaded, folder, drawn)
    return ExitCode.DONE


def _draw(args: Namespace, job: Job, kind: str, folder: Path, stem: str, suffix: str) -> tuple[str, ...]:
    """Write the files of a drawing; returns their names."""
    from faulttree.writing import write_file

    if kind == "list":
        from faulttree.draw.outline import in_lines

        pages = [("\n".join(in_lines(job.figure, 100)) + "\n").encode()]
    elif kind == "dot":
        from faulttree.draw.dot import dot_text, planned

        pages = [dot_text(planned(job.figure, args.paper)).encode()]
    else:
        from faulttree.cli.drawing import Layout

        pages = Layout(args.dot, args.paper).pages(job.figure, kind)
    ending = suffix or f".{EXTENSIONS.get(kind, kind)}"
    numbers = [""] if len(pages) == 1 else [f"-{number}" for number in range(1, len(pages) + 1)]
    names = tuple(f"{stem}{number}{ending}" for number in numbers)
    for name, data in zip(names, pages, strict=True):
        write_file(folder / name, data)
        _say(folder / name)
    return names


def _index(loaded: LoadedLibrary, folder: Path, drawn: list[Drawn]) -> None:
    from faulttree.draw.index import index_page
    from faulttree.writing import write_file

    assert loaded.library is not None
    page = index_page(loaded.library.operator, loaded.library.revision, drawn)
    write_file(folder / "index.html", page.encode())
    _say(folder / "index.html")


def _say(path: Path) -> None:
    try:
        out(one_line(str(path.relative_to(here()))))
    except ValueError:
        out(one_line(str(path)))
