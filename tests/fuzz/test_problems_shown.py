"""Example manifests, mangled: whatever is wrong is shown with its line, and the mark stands under the place."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.check import check_manifest
from preflint.errors import Line, NotRead, Problem
from preflint.load.documents import Documents
from preflint.load.tree import Tree
from preflint.render.escape import letters
from preflint.render.fold import columns
from preflint.render.page import Page
from preflint.render.problems import tell
from preflint.render.snippet import MARK, snippet

CLUB = Path(__file__).parents[2] / "examples" / "club"
MANIFESTS = sorted(CLUB.glob("*.airframe.yaml"))
PIECES = [
    "\t", "\u00a0", "  ", " ", "\n", ": ", ":", ",", "[", "]", "{", "}", '"', "'", "“", "”", "- ", "-", "#", "&a ",
    "*a", "!x ", "1,5", "5 mm", "31.01.2026", "yes", "~", "\x1b[2J", "\u202e", "鳥", "e\u0301", "\U0001f681", "::",
    "##", "<<<<<<< ours\n", "=======\n", "x" * 500, "\r", "\ufeff", "|", ">", "%", "?", "nonsense: 1\n", "kind: x, ",
]  # fmt: skip
change = st.tuples(st.floats(0, 1), st.integers(0, 12), st.sampled_from(PIECES))


def found(path: Path, folder: Path, changes: list[tuple[float, int, str]]) -> tuple[str, list[Problem]]:
    """The mangled text, and its problems."""
    text = path.read_text(encoding="utf-8")
    for where, left_out, piece in changes:
        at = int(where * len(text))
        text = text[:at] + piece + text[at + left_out :]
    (folder / "x.airframe.yaml").write_text(text, encoding="utf-8", newline="")
    documents = Documents(Tree(folder, None))
    try:
        problems = check_manifest(documents.read("x.airframe.yaml"))
    except NotRead as refused:
        return text, list(refused.problems)
    return text, documents.quoted(problems)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("mangled").resolve()


@settings(derandomize=True, deadline=None, max_examples=400)
@given(
    st.sampled_from(MANIFESTS), st.lists(change, min_size=1, max_size=4), st.sampled_from([40, 57, 80]), st.booleans()
)
def test_each_is_shown_where_it_is(
    folder: Path, path: Path, changes: list[tuple[float, int, str]], width: int, ascii_only: bool
) -> None:
    text, problems = found(path, folder, changes)
    lines = text.removeprefix("\ufeff").split("\n")
    for problem in problems:
        if problem.place is None:
            assert problem.message.startswith("and ")  # how many more there are
            continue
        assert problem.line is not None
        whole = lines[problem.place.line - 1].removesuffix("\r")
        assert problem.line == Line.about(whole, problem.place)
        above, below = snippet(problem.line, problem.place, width, ascii_only)
        assert max(columns(above), len(below)) <= width
        marked = whole[problem.place.column - 1 : problem.place.column]
        if marked not in ("", " ") and columns(shown := letters(f"x{marked}", ascii_only)[1]):
            begins = below.index(MARK)
            prefix = next(above[:at] for at in range(len(above) + 1) if columns(above[:at]) >= begins)
            # A sign that ends the line before, or repeats, is written as a code.
            assert above[len(prefix) :].startswith((shown, "\\x3a", "\\x23"))
    page = Page(width, ascii_only, colour=False)
    tell(page, problems, "      ")
    assert all(columns(line) <= width for line in page.lines)
    assert all(line.isprintable() for line in page.lines)
