"""The server: what an editor asks and tells over standard input and output, answered by the other modules."""

import asyncio
import datetime as dt
import logging
import os
import re
import sys
from io import BufferedReader
from pathlib import Path

from lsprotocol import types as lsp
from pygls.lsp.server import LanguageServer
from pygls.uris import to_fs_path
from pygls.workspace import TextDocument

from preflint.aircraft.moment import Moment
from preflint.editor.complete import offers
from preflint.editor.insertion import record_to_fill_in
from preflint.editor.judged import Judged, not_judged
from preflint.editor.marks import Marks
from preflint.editor.outline import outline
from preflint.engine.rule_module import builtin_and
from preflint.errors import told
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.names import SUFFIX
from preflint.meanings.look_up import meaning_of_path
from preflint.render.explained import explained
from preflint.version import __version__

_PAUSE_S = 0.3  # after the last key, before the text is judged
_HOVER_COLUMNS = 80
_BLANK = re.compile(r"\[?___\]?|[\w-]+(?:\|[\w-]+)+")
_WORD = re.compile(r"[\w./-]*")

_log = logging.getLogger(__name__)


class Server(LanguageServer):
    """Keeps what was last judged of each open manifest, by its uri; ``rules`` are the user's own rule modules.

    Raises RuleModuleError for one that is wrong.
    """

    def __init__(self, rules: tuple[str, ...] = ()) -> None:
        super().__init__("preflint", __version__, text_document_sync_kind=lsp.TextDocumentSyncKind.Full)
        self.rules, self.registry = rules, builtin_and(rules)
        self.judged: dict[str, Judged] = {}
        self._waiting: dict[str, asyncio.Task[None]] = {}
        self._one_at_a_time = asyncio.Lock()

    def report_server_error(self, error: Exception, source: type[Exception]) -> None:
        """Into the log alone: a message that is none must not pop up before whoever types."""
        _log.warning("%s", told(error))

    def open(self, uri: str) -> TextDocument | None:
        """The open document, by its uri as the editor writes it; the keys of the workspace have %20 undone."""
        return next((held for held in self.workspace.text_documents.values() if held.uri == uri), None)

    def text(self, uri: str) -> str:
        """The open text; "" of one that is too large for a manifest, or not open."""
        document = self.open(uri)
        text = "" if document is None else document.source
        return text if len(text) <= MAX_YAML_BYTES else ""

    def marks(self, text: str) -> Marks:
        """Its places in the units agreed upon."""
        return Marks(text, str(self.workspace.position_encoding or "utf-16"))

    def soon(self, uri: str, pause: float = 0.0) -> None:
        """Judges the document when nothing more is typed for the pause; what waited before is left out."""
        if (before := self._waiting.pop(uri, None)) is not None:
            before.cancel()
        if _manifest(uri) is not None:
            self._waiting[uri] = asyncio.get_running_loop().create_task(self._judge(uri, pause))

    def forget(self, uri: str) -> None:
        """Takes its marks off."""
        if (before := self._waiting.pop(uri, None)) is not None:
            before.cancel()
        if self.judged.pop(uri, None) is not None:
            self.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri=uri, diagnostics=[]))

    async def _judge(self, uri: str, pause: float) -> None:
        await asyncio.sleep(pause)
        path, document = _manifest(uri), self.open(uri)
        if path is None or document is None:
            return
        text, version, today = document.source, document.version, dt.date.today()
        async with self._one_at_a_time:
            try:
                judged = await asyncio.to_thread(Judged, path, text, self.marks(text), today, self.rules)
            except Exception as error:  # the server outlives whatever a text brings about, and no marks are no verdict
                _log.warning("%s: not judged: %s", path, told(error))
                self.judged.pop(uri, None)
                self._publish(uri, version, [not_judged(told(error))])
                return
        self.judged[uri] = judged
        self._publish(uri, version, judged.diagnostics)

    def _publish(self, uri: str, version: int | None, diagnostics: list[lsp.Diagnostic]) -> None:
        self.text_document_publish_diagnostics(
            lsp.PublishDiagnosticsParams(uri=uri, diagnostics=diagnostics, version=version)
        )


def _manifest(uri: str) -> Path | None:
    """The file of a manifest; None for any other document, and where there is no file."""
    try:
        path = to_fs_path(uri) if uri.startswith("file:") else None
    except Exception:  # whatever is no uri
        return None
    return Path(path) if path and path.endswith(SUFFIX) and "\x00" not in path else None


def serve(rules: tuple[str, ...]) -> None:
    """Until the editor ends it or closes its end. Nothing but the protocol is written on standard output."""
    server = made(rules)
    protocol_out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # what a rule prints goes to the log
    assert isinstance(sys.stdin.buffer, BufferedReader)
    server.start_io(sys.stdin.buffer, protocol_out)


def made(rules: tuple[str, ...]) -> Server:
    """A server with all that it answers. Raises RuleModuleError."""
    server = Server(rules)

    @server.feature(lsp.TEXT_DOCUMENT_DID_OPEN)
    async def opened(params: lsp.DidOpenTextDocumentParams) -> None:
        server.soon(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CHANGE)
    async def changed(params: lsp.DidChangeTextDocumentParams) -> None:
        server.soon(params.text_document.uri, _PAUSE_S)

    @server.feature(lsp.TEXT_DOCUMENT_DID_SAVE)
    async def saved(params: lsp.DidSaveTextDocumentParams) -> None:
        for held in list(server.workspace.text_documents.values()):  # a part, a log or the policy may be another's
            server.soon(held.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CLOSE)
    async def closed(params: lsp.DidCloseTextDocumentParams) -> None:
        server.forget(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_HOVER)
    def hover(params: lsp.HoverParams) -> lsp.Hover | None:
        return _hover(server, params)

    @server.feature(
        lsp.TEXT_DOCUMENT_COMPLETION, lsp.CompletionOptions(trigger_characters=[" ", ":", "-", "{", "["])
    )
    def complete(params: lsp.CompletionParams) -> lsp.CompletionList:
        return lsp.CompletionList(is_incomplete=False, items=_complete(server, params))

    @server.feature(
        lsp.TEXT_DOCUMENT_CODE_ACTION, lsp.CodeActionOptions(code_action_kinds=[lsp.CodeActionKind.QuickFix])
    )
    def actions(params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
        return _actions(server, params)

    return server


def _hover(server: Server, params: lsp.HoverParams) -> lsp.Hover | None:
    text = server.text(params.text_document.uri)
    if _manifest(params.text_document.uri) is None or not text:
        return None
    marks = server.marks(text)
    line, column = marks.column(params.position)
    rest = _WORD.match(marks.lines[line], column)
    end = rest.end() if rest else column
    cursor = outline("\n".join(marks.lines), line, end).cursor
    if cursor is None:
        return None
    steps = [step for step in cursor.steps if isinstance(step, str)]
    path = steps if cursor.as_value else [*steps, cursor.word.strip().strip("\"'")]
    meaning = meaning_of_path(path, server.registry, Moment(dt.date.today()))
    while meaning is None and path:  # a position, or a word that is not known: what it stands in
        path = path[:-1]
        meaning = meaning_of_path(path, server.registry, Moment(dt.date.today()))
    if meaning is None:
        return None
    return lsp.Hover(lsp.MarkupContent(lsp.MarkupKind.PlainText, explained([meaning], _HOVER_COLUMNS)))


def _complete(server: Server, params: lsp.CompletionParams) -> list[lsp.CompletionItem]:
    text = server.text(params.text_document.uri)
    if _manifest(params.text_document.uri) is None:
        return []
    marks = server.marks(text)
    line, column = marks.column(params.position)
    found = outline("\n".join(marks.lines), line, column)
    if found.cursor is None:
        return []
    start, end = marks.position(line, found.cursor.start), marks.position(line, column)
    known = server.client_capabilities.text_document
    item = known.completion.completion_item if known and known.completion else None
    fills_in = bool(item and item.snippet_support)
    return [
        lsp.CompletionItem(
            label=offer.label, detail=offer.about, sort_text=f"{number:04}", filter_text=offer.label,
            kind=lsp.CompletionItemKind.Snippet if offer.lines else lsp.CompletionItemKind.Property,
            insert_text_mode=lsp.InsertTextMode.AdjustIndentation,
            insert_text_format=lsp.InsertTextFormat.Snippet if fills_in else lsp.InsertTextFormat.PlainText,
            text_edit=lsp.TextEdit(
                lsp.Range(start, end), _to_fill_in(offer.text) if fills_in else offer.text
            ),
        )
        for number, offer in enumerate(offers(found, dt.date.today()))
    ]  # fmt: skip


def _to_fill_in(text: str) -> str:
    """With a stop at each blank, the words to choose from where there are some."""
    made, last = "", 0
    for number, blank in enumerate(_BLANK.finditer(text), 1):
        words = blank[0].split("|")
        stop = f"${{{number}|{','.join(words)}|}}" if len(words) > 1 else f"${{{number}:{blank[0]}}}"
        made += _escaped(text[last : blank.start()]) + stop
        last = blank.end()
    return made + _escaped(text[last:])


def _escaped(text: str) -> str:
    return re.sub(r"([\\$}])", r"\\\1", text)


def _actions(server: Server, params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
    uri = params.text_document.uri
    judged, text = server.judged.get(uri), server.text(uri)
    if judged is None or judged.aircraft is None or not text:
        return []
    marks, now, made = server.marks(text), Moment(dt.date.today()), []
    for kind in judged.records_wanted(params.range):
        insertion = record_to_fill_in(text, kind, judged.aircraft, now)
        if insertion is not None:
            at = marks.at(insertion.index)
            edit = lsp.TextEdit(lsp.Range(at, at), insertion.text)
            made.append(lsp.CodeAction(
                title=f"Insert a {kind} to fill in", kind=lsp.CodeActionKind.QuickFix,
                edit=lsp.WorkspaceEdit(changes={uri: [edit]}),
            ))  # fmt: skip
    return made
