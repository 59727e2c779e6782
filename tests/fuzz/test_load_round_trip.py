"""Plain data, written as YAML by a writer of its own that notes where everything stands, is read back."""

import random
import re

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.errors import NotRead, Problem
from preflint.load.node import Node
from preflint.load.yaml.events import load_yaml
from preflint.places import Place

FIXED = settings(derandomize=True, deadline=None, max_examples=400)

PLAIN_TEXT = re.compile(r"[A-Za-z][A-Za-z0-9/.-]*(?: [A-Za-z0-9/.-]+)*")
RESERVED = {"y", "n", "yes", "no", "on", "off", "true", "false", "null"}

LETTERS = "abcxyzTLO019 /.-'\"\\:#,[]{}&*!|>%@é😀ßж±"
TEXTS = ("no", "012", "12:30", "1e3", "a: b", "# c", " x ", "2026-04-18", "runs-on", "1\n2", "x\ty")
NAMES = ("no", "1", "a/b", "a~b", "a b")


class Number(str):
    """A number as it is written."""


def some(rng: random.Random, letters: str, least: int, most: int) -> str:
    return "".join(rng.choices(letters, k=rng.randint(least, most)))


def name(rng: random.Random) -> str:
    return rng.choice([some(rng, "abcdexyz", 1, 1) + some(rng, "abxyz_-", 0, 8), rng.choice(NAMES)])


def scalar(rng: random.Random) -> str | bool:
    """Of texts any sign, one that some reader takes for something else, or one that needs no quotes."""
    whole = rng.choice(["", "-"]) + rng.choice(["0", some(rng, "123456789", 1, 1) + some(rng, "0123456789", 0, 8)])
    return rng.choice([
        some(rng, LETTERS, 0, 12),
        rng.choice(TEXTS),
        some(rng, "abxyzT", 1, 1) + some(rng, "abT019/.-", 0, 6) + rng.choice(["", " " + some(rng, "aT09/.-", 1, 6)]),
        rng.random() < 0.5,
        Number(rng.choice([whole, f"{whole[:7]}.{some(rng, '0123456789', 1, 6)}"])),
    ])


def value(rng: random.Random, depth: int = 0) -> object:
    """Up to four inside each list or group, and those to a depth of four."""
    if depth == 4 or rng.random() < 0.4 + depth / 10:
        return scalar(rng)
    if rng.random() < 0.5:
        return [value(rng, depth + 1) for _ in range(rng.randint(0, 4))]
    return {name(rng): value(rng, depth + 1) for _ in range(rng.randint(0, 4))}


def document(rng: random.Random) -> dict[str, object]:
    return {name(rng): value(rng) for _ in range(rng.randint(1, 5))}


# All is made from one number that is drawn: to draw each letter takes longer than to read the document.
ways = st.integers(0, 2**32).map(random.Random)
documents = ways.map(document)


class Writer:
    """Writes one document, somehow, and remembers start and end of every value and key by its pointer."""

    def __init__(self, rng: random.Random, line_end: str) -> None:
        self.rng = rng
        self.line_end = line_end
        self.text = ""
        self.spans: dict[str, tuple[int, int]] = {}
        self.keys: dict[str, tuple[int, int]] = {}

    def pick(self, *choices: str) -> str:
        return self.rng.choice(choices)

    def new_line(self, indent: int) -> None:
        if self.pick("", "comment") == "comment":
            self.text += self.pick(" # a: b", "  # 'x", " #é😀")
        self.text += self.line_end + self.pick("", "", self.line_end, f"   # - x{self.line_end}") + " " * indent

    def word(self, text: str, flow: bool, indent: int, key: bool) -> None:
        ways = ["double"]
        if "\n" not in text and "\t" not in text:
            ways.append("single")
        if PLAIN_TEXT.fullmatch(text) and text.lower() not in RESERVED:
            ways.append("plain")
        lines = text.split("\n")
        if (
            not flow
            and not key
            and text.endswith("\n")
            and all(re.match(r"[^\s#]", part) for part in lines[:-1])
        ):
            ways.append("literal")
        match self.pick(*ways):
            case "plain":
                self.text += text
            case "single":
                self.text += "'" + text.replace("'", "''") + "'"
            case "double":
                codes = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}
                self.text += '"' + "".join(codes.get(sign, sign) for sign in text) + '"'
            case _:
                self.text += "|" + "".join(self.line_end + " " * (indent + 2) + part for part in lines[:-1])

    def value(self, value: object, pointer: str, indent: int, flow: bool) -> None:
        start = len(self.text)
        match value:
            case bool():
                self.text += "true" if value else "false"
            case Number():
                self.text += value
            case str():
                self.word(value, flow, indent, key=False)
            case list() | dict():
                if flow or not value or self.pick("block", "flow") == "flow":
                    self.flow(value, pointer, indent)
                else:
                    start = self.block(value, pointer, indent)
        self.spans[pointer] = (start, len(self.text))

    def flow(self, value: list[object] | dict[str, object], pointer: str, indent: int) -> None:
        self.text += "{" if isinstance(value, dict) else "["
        for count, (step, inner) in enumerate(items(value)):
            self.text += "," * bool(count) + self.pick("", " ", self.line_end + " " * (indent + 1))
            here = f"{pointer}/{escape(step)}"
            if isinstance(value, dict):
                self.key(step, here, indent)
                self.text += ": "
            self.value(inner, here, indent, flow=True)
        self.text += self.pick("", " ") + ("}" if isinstance(value, dict) else "]")

    def block(self, value: list[object] | dict[str, object], pointer: str, indent: int) -> int:
        start = 0
        for count, (step, inner) in enumerate(items(value)):
            compact = not count and self.text.endswith("- ") and self.pick("compact", "below") == "compact"
            if self.text and not compact:
                self.new_line(indent)
            if not count:
                start = len(self.text)
            here = f"{pointer}/{escape(step)}"
            if isinstance(value, dict):
                self.key(step, here, indent)
                self.text += ":" + self.pick(" ", "  ")
                # A list may stand in the column of the name it belongs to.
                deeper = indent if isinstance(inner, list) and self.pick("same", "in") == "same" else indent + 2
            else:
                self.text += "- "
                deeper = indent + 2
            self.value(inner, here, deeper, flow=False)
        return start

    def key(self, name: str, pointer: str, indent: int) -> None:
        start = len(self.text)
        self.word(name, flow=True, indent=indent, key=True)
        self.keys[pointer] = (start, len(self.text))


def items(value: list[object] | dict[str, object]) -> list[tuple[str, object]]:
    return list(value.items()) if isinstance(value, dict) else [(str(i), inner) for i, inner in enumerate(value)]


def escape(step: str) -> str:
    return step.replace("~", "~0").replace("/", "~1")


def read(value: object) -> object:
    """What the data mean once numbers are numbers."""
    match value:
        case Number():
            return float(value) if "." in value else int(value)
        case list():
            return [read(inner) for inner in value]
        case dict():
            return {name: read(inner) for name, inner in value.items()}
    return value


def stretch(text: str, place: Place) -> str:
    """The text at a place, found by counting lines and characters."""
    lines = text.split("\n")
    if place.line == place.end_line:
        return lines[place.line - 1][place.column - 1 : place.end_column - 1]
    first, last = lines[place.line - 1][place.column - 1 :], lines[place.end_line - 1][: place.end_column - 1]
    return "\n".join([first, *lines[place.line : place.end_line - 1], last])


def nodes(node: Node) -> list[Node]:
    inner = node.value.values() if isinstance(node.value, dict) else node.value if isinstance(node.value, tuple) else ()
    return [node, *(found for child in inner for found in nodes(child))]


@FIXED
@given(documents, st.sampled_from(["\n", "\r\n"]), st.booleans(), ways)
def test_data_come_back_as_written_each_from_its_place(
    document: dict[str, object], line_end: str, mark: bool, way: random.Random
) -> None:
    writer = Writer(way, line_end)
    writer.value(document, "", 0, flow=False)
    text = writer.text + line_end
    root = load_yaml((b"\xef\xbb\xbf" if mark else b"") + text.encode(), "a.airframe.yaml")
    assert repr(root.plain()) == repr(read(document))
    found = nodes(root)
    assert {node.place.pointer for node in found} == set(writer.spans)
    for node in found:
        start, end = writer.spans[node.place.pointer]
        assert stretch(text, node.place) == text[start:end]
        assert text.count("\n", 0, start) + 1 == node.place.line
        if node.key is not None:
            start, end = writer.keys[node.key.pointer]
            assert stretch(text, node.key) == text[start:end]
            assert node.key.pointer == node.place.pointer
            assert text.count("\n", 0, start) + 1 == node.key.line


def texts_only(node: Node) -> object:
    if isinstance(node.value, dict):
        return {name: texts_only(child) for name, child in node.value.items()}
    return [texts_only(child) for child in node.value] if isinstance(node.value, tuple) else node.text


@FIXED
@given(documents, ways, st.data())
def test_a_damaged_document_is_refused_or_means_what_another_reader_takes_it_for(
    document: dict[str, object], way: random.Random, data: st.DataObject
) -> None:
    writer = Writer(way, "\n")
    writer.value(document, "", 0, flow=False)
    text = writer.text + "\n"
    for _ in range(data.draw(st.integers(1, 3))):
        at, end = sorted(data.draw(st.tuples(st.integers(0, len(text)), st.integers(0, len(text)))))
        signs = data.draw(st.text(st.sampled_from("\n\t -:#,[]{}&*!|>'\"%a0~?"), max_size=3))
        text = text[:at] + signs + text[min(end, at + 3) :]
    root, problems = attempt(text.encode())
    if root is not None:
        assert texts_only(root) == yaml.load(text, Loader=yaml.CBaseLoader)
    for problem in problems:
        assert_inside(problem, text)


def attempt(data: bytes) -> tuple[Node | None, tuple[Problem, ...]]:
    try:
        return load_yaml(data, "a.airframe.yaml"), ()
    except NotRead as refusal:
        if not refusal.problems:
            raise AssertionError("refused without a word") from refusal
        return None, refusal.problems


def assert_inside(problem: Problem, text: str) -> None:
    place, lines = problem.place, text.split("\n")
    assert problem.message.isprintable()
    assert place is not None
    assert 1 <= place.line <= place.end_line <= len(lines)
    assert 1 <= place.column <= len(lines[place.line - 1]) + 1
    assert place.end_column <= len(lines[place.end_line - 1]) + 1
    assert (place.line, place.column) <= (place.end_line, place.end_column)


LEVELS, ABOVE = 9, "x" * 90
"""So far down the length of every pointer is looked at, and no scalar is taken the short way."""


def shifted(place: Place | None, down: int, right: int) -> Place | None:
    if place is None:
        return None
    pointer = place.pointer.removeprefix(f"/{ABOVE}" * LEVELS)
    return Place(place.file, place.line + down, place.column + right, place.end_line + down,
                 place.end_column + right, pointer)  # fmt: skip


@FIXED
@given(documents, st.sampled_from(["\n", "\r\n"]), ways)
def test_the_short_way_and_the_long_one_lead_to_the_same(
    document: dict[str, object], line_end: str, way: random.Random
) -> None:
    writer = Writer(way, line_end)
    writer.value(document, "", 0, flow=False)
    root = load_yaml(f"{writer.text}{line_end}".encode(), "a.airframe.yaml")
    text = "".join(f"{' ' * level}{ABOVE}:\n" for level in range(LEVELS))
    text += "".join(f"{' ' * LEVELS}{line}\n" for line in writer.text.split("\n"))
    far = load_yaml(text.encode(), "a.airframe.yaml")
    for _ in range(LEVELS):
        assert isinstance(far.value, dict)
        far = far.value[ABOVE]
    for near, deep in zip(nodes(root), nodes(far), strict=True):
        assert (near.text, shifted(near.place, 0, 0)) == (deep.text, shifted(deep.place, -LEVELS, -LEVELS))
        assert near is root or near.key == shifted(deep.key, -LEVELS, -LEVELS)
    assert repr(root.plain()) == repr(far.plain())
