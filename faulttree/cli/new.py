"""``faulttree new``: begin a tree, and a library where there is none."""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Iterable, Sequence
from pathlib import Path

from faulttree.checking import check_library
from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here, library_above, library_in_use, need_own_library
from faulttree.cli.output import out, talk
from faulttree.cli.parser import did_you_mean, examples
from faulttree.cli.report import counted
from faulttree.library import LoadedLibrary, load_library, load_tree
from faulttree.library_files import SHARED, SUFFIX, is_file, read_bytes, shown
from faulttree.load.nodes import Scalar, Table
from faulttree.load.patterns import NAME, SHORT
from faulttree.load.schema import KINDS, TREE, kind_of, schema_named
from faulttree.load.starter import Told, library_texts, short_name, tree_text
from faulttree.model import Library
from faulttree.problems import LibraryError, UnreadableError, UsageError
from faulttree.value import replace

SCHEMAS = "schemas"
"""The folder of a library that the schemas are written to where no tree names others."""


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Begin a tree: write ID.yaml with all that the format asks for, and a blank, ___, wherever the author has "
        "something to say. It passes every rule but for these blanks; faulttree check lists them. Its first line names "
        "the schema, so that an editor with a YAML language server explains and checks it.\n\n"
        "The file is written in the current folder where that is inside the library, else in the library's folder; "
        "never over another. What is not given is asked for at a terminal, and is a blank elsewhere."
    )
    parser.add_argument("id", metavar="ID", help="name of the tree and of its file, such as lamp-does-not-light")
    parser.add_argument("--symptom", metavar="TEXT", help="what somebody notices")
    parser.add_argument("--equipment", metavar="TEXT", action="append", help="what it happens at; may be given again")
    parser.add_argument("--urgency", metavar="NAME", help="how soon it must be dealt with, a name of library.yaml")
    parser.add_argument("--short", metavar="ABC", help="three letters for read-back codes; default: made from ID")
    parser.add_argument("--author", metavar="TEXT", help="who writes it")
    parser.add_argument("--date", metavar="DATE", help="year-month-day; default: today")
    parser.add_argument("--with-library", action="store_true", help="begin a library in the current folder too")
    parser.epilog = examples(
        "faulttree new lamp-is-dark --library trees --symptom 'The lamp is dark' --equipment lamp",
        "faulttree new lamp-is-dark --with-library",
    )


def run(args: Namespace) -> ExitCode:
    """Write the file, and tell what comes next."""
    told = _told(args)
    folder = _begin_library(told.date) if args.with_library else _library(args)
    loaded = load_library(folder)
    if loaded.library is None:
        what = f'the shared files of "{shown(folder)}" have errors, so no tree can be begun'
        raise LibraryError(what, 'see all of them with "faulttree check"', loaded.problems)
    if not loaded.library.operational_checks:
        advice = "write one in operational-checks.yaml: every fix is proved by one"
        raise LibraryError("the library has no operational check", advice)
    place = here() if here() == folder or folder in here().parents else folder
    path = place / f"{told.id}{SUFFIX}"
    _refuse_taken(told, path, loaded)
    told = _completed(told, loaded.library, list(_written(loaded, "short")))
    text = tree_text(told, loaded.library, _schema(place, folder, [loaded.files[name].path for name in _trees(loaded)]))
    write_new(path, text)
    out(shown(path))
    talk(_blanks(folder, path))
    return ExitCode.DONE


def _blanks(folder: Path, path: Path) -> str:
    """How many blanks check will list for the new file, and where they stand."""
    loaded = load_tree(folder, str(path))
    files = [each.file for each in check_library(loaded) if each.rule == "blank-left"]
    own = sum(loaded.files[name].path == path for name in files)
    said = f"{counted(own, 'blank')} to be filled in, and {len(files) - own} in the shared files"
    if own == len(files):
        said = f"{counted(own, 'blank')} to be filled in"
    return f'{said}. "faulttree check {shown(path)}" lists them.'


# -- what is told


def _told(args: Namespace) -> Told:
    """What the words of the command say; raises `UsageError` for what can be no name, date or line of text."""
    name = args.id.removesuffix(SUFFIX)
    if not NAME(name) or name in SHARED:
        advice = "use letters, digits, dots, hyphens and underscores, at most 40, and no name of a shared file"
        raise UsageError(f'"{args.id}" can be no name of a tree', advice)
    for text in (args.symptom, args.author, args.urgency, *(args.equipment or ())):
        if text is not None and not (text.strip() and text.isprintable()):
            raise UsageError(f'"{text}" is no line of text', "write it in one line, or leave it out")
    if args.short is not None and not SHORT(args.short):
        raise UsageError(f'"{args.short}" can be no short name', "give three capital letters, not I or O")
    equipment = tuple(dict.fromkeys(each.strip() for each in args.equipment or ()))
    symptom, author = ((text or "").strip() for text in (args.symptom, args.author))
    return Told(name, args.short or "", _date(args.date), symptom, equipment, args.urgency or "", author)


def _date(given: str | None) -> str:
    from datetime import date

    from faulttree.dates import is_date

    if given is not None and not is_date(given):
        raise UsageError(f'"{given}" is no date', "write it as year-month-day, such as 2026-11-25")
    return given or date.today().isoformat()


def _completed(told: Told, library: Library, taken: Iterable[str]) -> Told:
    """The same with the short name, and with what a person at a terminal adds."""
    short = told.short or short_name(told.id, taken)
    if not short:
        raise UsageError("every short name is taken", "give one by --short, and rename another tree")
    told = replace(told, short=short)
    if told.urgency and told.urgency not in library.urgencies:
        advice = did_you_mean(told.urgency, library.urgencies) or f"choose one of: {', '.join(library.urgencies)}"
        raise UsageError(f'there is no urgency "{told.urgency}"', advice)
    if not (sys.stdin and sys.stdin.isatty()):
        return told
    symptom = told.symptom or _asked("What does somebody notice?")
    equipment = told.equipment or tuple(filter(None, [_asked("What does it happen at?")]))
    urgency = told.urgency or _asked_urgency(list(library.urgencies))
    return replace(
        told, symptom=symptom, equipment=equipment, urgency=urgency, author=told.author or _asked("Who writes it?")
    )


def _asked_urgency(known: Sequence[str]) -> str:
    """One of the names of urgencies; a key without a value is none, so Enter takes the first."""
    question = f"How soon must it be dealt with? One of: {', '.join(known)}."
    while answer := _asked(question, f'Enter takes "{known[0]}"'):
        if answer in known:
            return answer
        meant = did_you_mean(answer, known)
        talk(f'There is no urgency "{answer}"' + (f"; {meant}" if meant else "."))
    return known[0]


def _asked(question: str, enter: str = "Enter leaves it blank") -> str:
    """The answer of the person; empty where nothing that can be shown was typed. ``enter`` says what Enter does."""
    talk(f"{question} ({enter})", end=" ")
    answer = sys.stdin.readline().strip()
    return answer if answer.isprintable() else ""


# -- where


def _library(args: Namespace) -> Path:
    """The library that the tree belongs to; the shipped one is nobody's to write in."""
    need_own_library(args, ", or begin one by --with-library")
    return Path(os.path.normpath(library_in_use(args)))


def _begin_library(date: str) -> Path:
    """Write the shared files of a new library into the current folder."""
    folder = here()
    if above := library_above(folder):
        raise UsageError(f'there is a library in "{shown(above)}" already', "leave out --with-library")
    for name, text in library_texts(date, SCHEMAS).items():
        write_new(folder / name, text)
        out(name)
    return folder


def _trees(loaded: LoadedLibrary) -> list[str]:
    """The names of the files that are trees, readable or not."""
    return [name for name in loaded.files if kind_of(name) == TREE]


def _written(loaded: LoadedLibrary, key: str) -> dict[str, str]:
    """What the trees say at a key of their header, with the file, whatever else is wrong with them."""
    found = {}
    for name in _trees(loaded):
        root = loaded.files[name].root
        value = root.entries[key].value if isinstance(root, Table) and key in root.entries else None
        if isinstance(value, Scalar):
            found[value.value] = name
    return found


def _refuse_taken(told: Told, path: Path, loaded: LoadedLibrary) -> None:
    if os.path.lexists(path):
        raise UnreadableError(f'"{shown(path)}" is there already', "give another name, or edit that file")
    ids = {**{loaded.files[name].path.stem: name for name in _trees(loaded)}, **_written(loaded, "id")}
    if told.id in ids:
        raise UsageError(f'there is a tree "{told.id}" in "{ids[told.id]}"', "give another name")
    if told.short in (shorts := _written(loaded, "short")):
        raise UsageError(f'the short name "{told.short}" is that of "{shorts[told.short]}"', "give another by --short")


def _schema(place: Path, folder: Path, others: Iterable[Path]) -> str:
    """How the new file names its schema: as the other trees do, else in a folder of the library, made now if needed."""
    for other in others:
        named = schema_named(read_bytes(other, 200).decode(errors="replace"))
        if named:
            return named if "://" in named else _from(place, other.parent / named)
    path = folder / SCHEMAS / "tree.schema.json"
    if not is_file(path):
        from faulttree.cli.schema import write_all

        write_all(folder / SCHEMAS, list(KINDS), force=False)
    return _from(place, path)


def _from(place: Path, path: Path) -> str:
    return Path(os.path.relpath(path, place)).as_posix()


def write_new(path: Path, text: str) -> None:
    """Write a file that is not there yet, whole or not at all."""
    try:
        with path.open("xb") as file:
            try:
                file.write(text.encode())
            except OSError:
                path.unlink(missing_ok=True)
                raise
    except FileExistsError:
        raise UnreadableError(f'"{shown(path)}" is there already', "delete it, or go to another folder") from None
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise UnreadableError(
            f'"{shown(path)}" cannot be written: {reason}', "check the folder's permissions"
        ) from None
