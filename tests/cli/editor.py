"""What an editor with a YAML language server says of a file: a small client of the Language Server Protocol.

By hand: ``python tests/cli/editor.py SERVER FILE [LINE COLUMN]``, where SERVER is the command of the program
yaml-language-server (npm). It prints the diagnostics of the file, and what hovering over a place shows. No schema is
fetched from anywhere.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

SETTINGS = {"yaml": {"validate": True, "hover": True, "completion": True, "schemaStore": {"enable": False}}}


class Editor:
    """An editor that has one file open."""

    def __init__(self, command: Sequence[str], folder: Path) -> None:
        self.server = subprocess.Popen([*command, "--stdio"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        self.last = 0
        root = folder.as_uri()
        capabilities = {
            "workspace": {"configuration": True},
            "textDocument": {"hover": {"contentFormat": ["markdown"]}},
        }
        self.ask("initialize", {"processId": None, "rootUri": root, "capabilities": capabilities})
        self.tell("initialized", {})
        self.tell("workspace/didChangeConfiguration", {"settings": SETTINGS})

    def diagnostics(self, path: Path, text: str) -> list[dict[str, Any]]:
        """What the server finds in a file with this text."""
        document = {"uri": path.as_uri(), "languageId": "yaml", "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": document})
        while True:
            message = self.read()
            params = message.get("params", {})
            if message.get("method") == "textDocument/publishDiagnostics" and params["uri"] == path.as_uri():
                found: list[dict[str, Any]] = params["diagnostics"]
                return found

    def hover(self, path: Path, line: int, column: int) -> str:
        """What is shown at a place; line and column count from 1."""
        place = {"textDocument": {"uri": path.as_uri()}, "position": {"line": line - 1, "character": column - 1}}
        answer = self.ask("textDocument/hover", place)
        return answer["contents"]["value"] if answer else ""

    def close(self) -> None:
        """End the server."""
        self.server.kill()
        self.server.communicate()

    def tell(self, method: str, params: object) -> None:
        self.write({"jsonrpc": "2.0", "method": method, "params": params})

    def ask(self, method: str, params: object) -> Any:
        self.last += 1
        self.write({"jsonrpc": "2.0", "id": self.last, "method": method, "params": params})
        while True:
            message = self.read()
            if message.get("id") == self.last and "method" not in message:
                return message.get("result")

    def write(self, message: object) -> None:
        data = json.dumps(message).encode()
        assert self.server.stdin
        self.server.stdin.write(b"Content-Length: %d\r\n\r\n" % len(data) + data)
        self.server.stdin.flush()

    def read(self) -> dict[str, Any]:
        """The next message; what the server asks is answered on the way."""
        assert self.server.stdout
        length = 0
        while line := self.server.stdout.readline().strip():
            name, _, value = line.partition(b":")
            length = int(value) if name.lower() == b"content-length" else length
        message: dict[str, Any] = json.loads(self.server.stdout.read(length))
        if "method" in message and "id" in message:
            items = message.get("params", {}).get("items", [])
            result = [SETTINGS.get(item.get("section")) for item in items] if items else None
            self.write({"jsonrpc": "2.0", "id": message["id"], "result": result})
        return message


def main(words: Sequence[str]) -> None:
    """Open a file and print what the server says."""
    path = Path(words[1]).resolve()
    editor = Editor([words[0]], path.parent)
    try:
        for each in editor.diagnostics(path, path.read_text(encoding="utf-8")):
            start = each["range"]["start"]
            print(f"{path.name}:{start['line'] + 1}:{start['character'] + 1}: {each['message']}")
        if len(words) > 3:
            print(editor.hover(path, int(words[2]), int(words[3])))
    finally:
        editor.close()


if __name__ == "__main__":
    main(sys.argv[1:])
