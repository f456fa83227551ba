"""``faulttree check``: validate files, and prove that every cause is found."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator, Sequence

from faulttree.cells import broken
from faulttree.checking import check_library
from faulttree.cli import report
from faulttree.cli.exits import ExitCode
from faulttree.cli.output import Bold, out, talk, width
from faulttree.cli.parser import examples
from faulttree.cli.targets import Target, asked_files, asked_trees, is_shared, load_target, targets
from faulttree.library import LoadedLibrary
from faulttree.library_files import shown
from faulttree.problems import ERROR, Problem, in_order
from faulttree.value import Value


def configure(parser: ArgumentParser) -> None:
    """The words of the command."""
    parser.description = (
        "Validate files and prove, for each cause on each model, that the tree leads to a fix that clears it or to an "
        "end that names it. A file is checked with the library above it; its own problems are shown, and those of the "
        "shared files that it needs. Columns count code points from 1.\n\n"
        "The proof shows that each listed single fault is found if the readings are right; not that the list is "
        "complete or the fault single. A warning alone exits 0, with --strict 1."
    )
    parser.add_argument("path", nargs="*", metavar="PATH", help="files or folders; default: the library in use")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    parser.add_argument("--concise", action="store_true", help="one line a problem, without frames and help")
    parser.add_argument("--strict", action="store_true", help="exit 1 at warnings too")
    parser.add_argument("--explore", action="store_true", help="visit every state of a walk; a line a tree and model")
    parser.add_argument("-v", "--verbose", action="store_true", help="list what the trees claim by saying nothing")
    parser.epilog = examples(
        "faulttree check",
        "faulttree check trees/cot-will-not-release.yaml --concise",
        "faulttree check --explore --strict",
        "faulttree check --format json",
    )


class Result(Value):
    """What was found in one library."""

    target: Target
    loaded: LoadedLibrary
    trees: tuple[str, ...]
    problems: tuple[Problem, ...]

    @property
    def sound(self) -> list[str]:
        """The trees that are asked about and have no error, nor have the shared files."""
        wrong = {problem.file for problem in self.problems if problem.severity == ERROR}
        shared = [name for name, file in self.loaded.files.items() if is_shared(file.path, self.loaded.folder)]
        if self.loaded.library is None or wrong.intersection(shared):
            return []
        return [id for id in self.trees if self.loaded.tree_files[id] not in wrong]


def run(args: Namespace) -> ExitCode:
    """Check what is named, tell what is wrong."""
    results = [look_at(target) for target in targets(args.path, args)]
    problems = in_order([problem for result in results for problem in result.problems])
    tell = _json if args.format == "json" else _text
    wrong = tell(args, results, problems) or (
        problems if args.strict else [each for each in problems if each.severity == ERROR]
    )
    return ExitCode.PROBLEMS if wrong else ExitCode.DONE


def look_at(target: Target) -> Result:
    """The problems of one library, or of the part of it that is asked about."""
    loaded = load_target(target)
    trees = asked_trees(target, loaded)
    problems = check_library(loaded, only=trees)
    if target.parts:
        files = asked_files(target, loaded)
        problems = [problem for problem in problems if problem.file in files or problem.file not in loaded.files]
    return Result(target, loaded, tuple(trees), tuple(problems))


# -- text


def _text(args: Namespace, results: Sequence[Result], problems: Sequence[Problem]) -> bool:
    """Print everything as text; returns whether exploring found a rule that is broken."""
    _print_problems(args, results, problems)
    if args.verbose:
        for line in _claims(results):
            out(line)
    is_broken = args.explore and _explore(results)
    trees = sum(len(_tree_files(result)) for result in results)
    shared = sum(len(_shared_files(result)) for result in results)
    say = talk if args.concise else out
    for line in broken(report.total(problems, trees, shared), width()):
        say(line)
    if problems and not args.concise:
        talk(f'"faulttree explain {problems[0].rule}" says what a rule means.')
    return is_broken


def _print_problems(args: Namespace, results: Sequence[Result], problems: Sequence[Problem]) -> None:
    if args.concise:
        for problem in problems:
            out(*report.concise(problem))
        return
    sources = {name: file.text for result in results for name, file in result.loaded.files.items()}
    lines = {name: text.split("\n") for name, text in sources.items() if any(each.file == name for each in problems)}
    for line in report.texts(problems, lambda file: lines.get(file, ()), width()):
        out(*line)


def _shared_files(result: Result) -> list[str]:
    return [name for name, file in result.loaded.files.items() if is_shared(file.path, result.loaded.folder)]


def _tree_files(result: Result) -> list[str]:
    """The files of trees that are asked about, readable or not."""
    asked = asked_files(result.target, result.loaded).difference(_shared_files(result))
    return [name for name in result.loaded.files if name in asked]


def _claims(results: Sequence[Result]) -> Iterator[str]:
    from faulttree.cli.claims import claims_of

    columns = width()
    for result in results:
        for tree, claimed in claims_of(result.loaded, result.sound):
            yield f"What {tree} claims, for somebody to judge who knows the equipment:"
            for claim in claimed:
                yield from broken(claim.words, columns, "  - ", "    ")
            yield ""


def _explore(results: Sequence[Result]) -> bool:
    from faulttree.cli.claims import explored_in
    from faulttree.explore import HOLDS

    columns = width()
    found = False
    for result in results:
        for line, wrong in explored_in(result.loaded, result.sound):
            for part in broken(line, columns, "", "    "):
                out(part)
            for rule in wrong:
                out("  ", Bold("broken"), f": {rule}")
            found = found or bool(wrong)
        for id in result.trees:
            if id not in result.sound:
                out(f"{id}: not explored, it has errors")
        if not result.loaded.library:
            out(f"{shown(result.loaded.folder)}: not explored, its shared files have errors")
    if not found and any(result.sound for result in results):
        out("In every one of them:")
        for rule in HOLDS:
            for part in broken(rule, columns, "  - ", "    "):
                out(part)
    out("")
    return found


# -- JSON


def _json(args: Namespace, results: Sequence[Result], problems: Sequence[Problem]) -> bool:
    from faulttree.cli.claims import claims_as_json, explored_as_json

    values: dict[str, object] = {
        "problems": [report.as_json(problem) for problem in problems],
        "trees": sum(len(_tree_files(result)) for result in results),
        "shared_files": sum(len(_shared_files(result)) for result in results),
    }
    if args.verbose:
        values["claims"] = [each for result in results for each in claims_as_json(result.loaded, result.sound)]
    explored: list[dict[str, object]] = []
    if args.explore:
        explored = [each for result in results for each in explored_as_json(result.loaded, result.sound)]
        values["explored"] = explored
    out(report.document(values))
    return any(each["broken"] for each in explored)
