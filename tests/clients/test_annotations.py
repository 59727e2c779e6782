"""Workflow commands: the service's own library writes the same bytes."""

import datetime as dt
import json
from pathlib import Path

from preflint.fleet.inspect import inspect_many
from preflint.render.annotations import file_name
from preflint.render.escape import printable
from preflint.render.folded import folded
from preflint.render.remarks import remarks

from .conftest import run

SCRIPT = """
import * as core from '@actions/core'
import { readFileSync } from 'fs'
for (const [level, text, properties] of JSON.parse(readFileSync(0, 'utf8'))) core[level](text, properties)
"""


def test_the_services_own_library_writes_the_same_bytes(clients: Path, club: Path, told: dict[str, Path]) -> None:
    found = folded(remarks(inspect_many([club], judged_on=dt.date(2026, 5, 21))))
    names = {"error": "error", "warning": "warning", "note": "notice"}
    calls = []
    for level, name in names.items():
        for one in [one for one in found if one.level == level][:10]:
            remark, place = one.first, one.first.place
            text = "\n".join([one.said, *remark.advice])
            properties = {
                "title": printable(f"{remark.word}: {remark.rule}"), "file": file_name(place.file),
                "startLine": place.line, "endLine": place.end_line,
                "startColumn": place.column, "endColumn": place.end_column,
            }  # fmt: skip
            calls.append((name, text, properties))
    command = ("node", "--input-type=module", "-e", SCRIPT)
    wrote = run(*command, cwd=clients, input=json.dumps(calls))
    ours = [line for line in told["annotations"].read_text().splitlines() if line.startswith("::")]
    assert len(ours) > 20
    assert wrote.splitlines() == ours
