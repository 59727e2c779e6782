"""Manifests of the cases come from one builder: what a file has of its own is named for what it records or flies."""

import ast
from pathlib import Path

import pytest

CASES = Path(__file__).parents[1] / "cases"
FILES = sorted(CASES.rglob("*.py"))
SHARED = {"manifest", "answer"}


def test_there_are_cases():
    assert len(FILES) > 50


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.relative_to(CASES).as_posix())
def test_a_case_file_has_no_head_or_builder_of_its_own(file):
    tree = ast.parse(file.read_text(encoding="utf-8"))
    texts = [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)]
    assert not [text for text in texts if "preflint: 1\n" in text], "write manifest(…) of tests/making/manifests.py"
    own = {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)}
    assert not own & SHARED, "name it for what it records or flies"
