"""``python -m faulttree.docs``: make docs/format.md, docs/rules.md and docs/commands.md anew from the program.

With ``--check`` nothing is written; it exits 1 where a page differs from what the program says.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from faulttree.cli.exits import ExitCode
from faulttree.cli.output import out, prepare, talk

FOLDER = Path("docs")
"""The pages belong to a checkout; the program is run from its top."""


def pages() -> dict[str, Callable[[], str]]:
    """What makes each page, by the name of its file."""
    from faulttree.cli.commands_page import commands_page
    from faulttree.load.format_page import format_page
    from faulttree.rules.pages import rules_page

    return {"format.md": format_page, "rules.md": rules_page, "commands.md": commands_page}


def differing(folder: Path) -> dict[str, str]:
    """The pages whose file in ``folder`` is missing or differs, with the text that it should have."""
    made = {name: make() for name, make in pages().items()}
    return {name: text for name, text in made.items() if _read(folder / name) != text}


def _read(path: Path) -> str | None:
    return path.read_bytes().decode(errors="replace") if path.is_file() else None


def main(words: Sequence[str], folder: Path = FOLDER) -> ExitCode:
    """Write the pages that differ, or with ``--check`` only name them."""
    prepare("auto")
    if [word for word in words if word != "--check"]:
        talk("usage: python -m faulttree.docs [--check]")
        return ExitCode.USAGE
    if not folder.is_dir():
        talk(f'There is no folder "{folder}" here. Run this at the top of a checkout.')
        return ExitCode.USAGE
    texts = differing(folder)
    for name, text in texts.items():
        out(f"{folder.name}/{name}")
        if "--check" not in words:
            (folder / name).write_bytes(text.encode())
    if "--check" in words and texts:
        talk("These pages differ from the program. Make them anew by: python -m faulttree.docs")
        return ExitCode.PROBLEMS
    return ExitCode.DONE


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
