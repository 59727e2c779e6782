"""``preflint schema`` prints each schema whole."""

import json

import preflint_schemas
import pytest
from jsonschema import Draft202012Validator
from making.program import run


@pytest.mark.parametrize(("arguments", "kept"), [
    ((), preflint_schemas.airframe),
    (("airframe",), preflint_schemas.airframe),
    (("policy",), preflint_schemas.policy),
    (("report",), preflint_schemas.report),
])
def test_each_schema_is_printed_as_it_is(arguments, kept):
    ran = run("schema", *arguments)
    assert (ran.returncode, ran.stderr) == (0, "")
    schema = json.loads(ran.stdout)
    assert schema == kept()
    Draft202012Validator.check_schema(schema)


def test_another_word_is_refused():
    ran = run("schema", "manifest")
    assert ran.returncode == 2
    assert "'manifest' is not one of 'airframe', 'policy', 'report'" in ran.stderr
    assert ran.stdout == ""
