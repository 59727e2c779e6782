"""A small client of a language server over standard input and output."""

import json
import subprocess
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import IO, Any


class Server:
    """Starts the server; ``end`` stops it. ``settings`` are those it is told where it asks for the section yaml."""

    def __init__(
        self, command: Sequence[str], root: Path, settings: object = None, cwd: Path | None = None,
        errors: IO[bytes] | int | None = None, environment: Mapping[str, str] | None = None,
    ) -> None:  # fmt: skip
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=cwd, stderr=errors, env=environment
        )
        self.last = 0
        self.settings = settings
        self.versions: dict[str, int] = {}
        self.diagnostics: dict[str, list[dict[str, Any]]] = {}
        self.ask("initialize", {
            "processId": None, "rootUri": root.as_uri(), "workspaceFolders": None,
            "capabilities": {"workspace": {"configuration": True}, "textDocument": {
                "publishDiagnostics": {}, "hover": {"contentFormat": ["plaintext"]},
                "completion": {"completionItem": {"snippetSupport": True}},
            }},
        })  # fmt: skip
        self.tell("initialized", {})

    def open(self, file: Path, text: str | None = None) -> list[dict[str, Any]]:
        """Opens the file, as it is or with another text, and waits for what is said of it."""
        held = file.read_text("utf-8") if text is None else text
        document = {"uri": file.as_uri(), "languageId": "yaml", "version": 1, "text": held}
        self.versions[file.as_uri()] = 1
        self.tell("textDocument/didOpen", {"textDocument": document})
        return self.said_of(file)

    def change(self, file: Path, text: str, version: int = 2) -> None:
        """Puts another text in place of that of the open file."""
        document = {"uri": file.as_uri(), "version": version}
        self.versions[file.as_uri()] = version
        self.tell("textDocument/didChange", {"textDocument": document, "contentChanges": [{"text": text}]})

    def said_of(self, file: Path) -> list[dict[str, Any]]:
        """Waits for what is said of the file next, as it was last sent."""
        uri = file.as_uri()
        while uri not in self.diagnostics:
            self._take()
        return self.diagnostics.pop(uri)

    def at(self, method: str, file: Path, line: int, character: int) -> Any:
        """What ``textDocument/method`` answers at a place, counted from 0."""
        place = {"line": line, "character": character}
        return self.ask(f"textDocument/{method}", {"textDocument": {"uri": file.as_uri()}, "position": place})

    def ask(self, method: str, params: object) -> Any:
        """Sends a request and waits for its answer."""
        self.last += 1
        self._send({"id": self.last, "method": method, "params": params})
        while True:
            message = self._take()
            if message.get("id") == self.last and "method" not in message:
                assert "error" not in message, message
                return message["result"]

    def tell(self, method: str, params: object) -> None:
        """Sends a notification."""
        self._send({"method": method, "params": params})

    def refused(self, method: str, params: object) -> Any:
        """The error with which a request is answered."""
        self.last += 1
        self._send({"id": self.last, "method": method, "params": params})
        while True:
            message = self._take()
            if message.get("id") == self.last:
                return message["error"]

    def raw(self, data: bytes) -> None:
        """Sends bytes that are no message of ours."""
        assert self.process.stdin is not None
        self.process.stdin.write(data)
        self.process.stdin.flush()

    def end(self) -> None:
        """Stops the server."""
        self.process.kill()
        self.process.communicate()

    def _send(self, message: dict[str, Any]) -> None:
        data = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self.process.stdin is not None
        self.process.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(data), data))
        self.process.stdin.flush()

    def _take(self) -> dict[str, Any]:
        stream = self.process.stdout
        assert stream is not None
        length = 0
        while line := stream.readline().strip():
            if line.lower().startswith(b"content-length:"):
                length = int(line.split(b":")[1])
        assert length, "the server ended"
        message: dict[str, Any] = json.loads(stream.read(length))
        if message.get("method") == "textDocument/publishDiagnostics":
            uri, of = message["params"]["uri"], message["params"].get("version")
            if of is None or of == self.versions.get(uri):
                self.diagnostics[uri] = message["params"]["diagnostics"]
        elif "method" in message and "id" in message:
            asked = message["params"]["items"] if message["method"] == "workspace/configuration" else None
            told = asked and [self.settings if item.get("section") == "yaml" else None for item in asked]
            self._send({"id": message["id"], "result": told})
        return message
