"""``faulttree schema``: the JSON Schemas of the files of a library, for editors and other programs."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from faulttree.cli.exits import ExitCode
from faulttree.cli.in_use import here
from faulttree.cli.output import out, talk
from faulttree.cli.parser import choice_of, examples
from faulttree.cli.report import document
from faulttree.load.schema import KINDS, schema_text
from faulttree.problems import UnreadableError, UsageError
from faulttree.writing import write_file


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Print the JSON Schema (draft-07) of a kind of file; without a kind, list the kinds. With -o all are written "
        "into a folder; faulttree new writes them into schemas in the library's folder. An editor finds the schema by "
        "the first line of a file, which names its place seen from the file:\n\n"
        "# yaml-language-server: $schema=schemas/tree.schema.json"
    )
    parser.add_argument("kind", nargs="?", metavar="KIND", help=", ".join(KINDS))
    parser.add_argument(
        "--format", choices=("text", "json"), default="text", help="of the list of kinds; default: text"
    )
    parser.add_argument("-o", "--output", metavar="DIR", help="write all schemas into DIR")
    parser.add_argument("-f", "--force", action="store_true", help="with -o: replace files that differ")
    parser.epilog = examples(
        "faulttree schema", "faulttree schema --format json", "faulttree schema tree", "faulttree schema -o schemas"
    )


def run(args: Namespace) -> ExitCode:
    """Print a schema, list the kinds, or write all."""
    if args.kind is not None and args.kind not in KINDS:
        advice = choice_of(args.kind, KINDS)
        raise UsageError(f'there is no kind of file "{args.kind}"', advice)
    if args.output is not None:
        write_all(here() / args.output, [args.kind] if args.kind else list(KINDS), args.force)
    elif args.kind:
        out(schema_text(args.kind).rstrip("\n"))
    elif args.format == "json":
        out(document({"kinds": list(KINDS)}))
    else:
        for kind in KINDS:
            out(kind)
    return ExitCode.DONE


def write_all(folder: Path, kinds: list[str], force: bool) -> None:
    """Write the schemas; a file of that name that holds something else is left alone without ``force``."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        texts = {folder / f"{kind}.schema.json": schema_text(kind) for kind in kinds}
        differs = [path for path, text in texts.items() if path.exists() and path.read_bytes() != text.encode()]
        if differs and not force:
            raise UnreadableError(
                f'"{differs[0]}" is there and differs', "use --force to replace it, or another folder"
            )
        for path, text in texts.items():
            write_file(path, text.encode())
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", "") or str(error)).lower()
        raise UnreadableError(f'"{folder}" cannot be written: {reason}', "name another folder after -o") from None
    talk(f"{len(texts)} schemas are in {folder}.")
