"""Each budget is kept to the last value, in whatever form the last value comes."""

import pytest

from preflint.errors import NotRead
from preflint.load.limits import MAX_NODES, MAX_POINTER
from preflint.load.yaml.events import load_yaml

TOO_MANY = f"the file holds more than {MAX_NODES} values"
TOO_LONG = "names inside names are too long altogether"


def load(text: str) -> object:
    return load_yaml(text.encode(), "a.airframe.yaml")


def refusal(text: str) -> tuple[int, int, str]:
    with pytest.raises(NotRead) as refused:
        load(text)
    (problem,) = refused.value.problems
    assert problem.place is not None
    return problem.place.line, problem.place.column, problem.message


@pytest.mark.parametrize("last", ["1", "x y", "'x'", "&z 1", "*x", "[]", "{}"])
def test_the_last_item_of_a_list_is_read_and_no_more(last: str) -> None:
    # The document is one; a and b are names, each with a value.
    text = "a: &x 1\nb:\n" + "- 1\n" * (MAX_NODES - 6)
    assert load(f"{text}- {last}\n")
    column = 6 if "&" in last else 3
    assert refusal(f"{text}- 1\n- {last}\n") == (MAX_NODES - 2, column, TOO_MANY)


@pytest.mark.parametrize("name", ["k", "'k'"])
def test_the_last_entry_of_a_group_is_read_and_neither_name_nor_value_more(name: str) -> None:
    entries = "".join(f"k{n}: 1\n" for n in range(MAX_NODES // 2 - 3))
    line = MAX_NODES // 2 - 1
    assert load(f"a: [1]\n{entries}{name}: 1\n")
    assert refusal(f"a: [1, 2]\n{entries}{name}: 1\n") == (line, len(name) + 3, TOO_MANY)
    assert refusal(f"a: [1, 2, 3]\n{entries}{name}: 1\n") == (line, 1, TOO_MANY)


def test_an_alias_counts_as_what_it_stands_for_without_the_names_in_it() -> None:
    # The document, a, its group with two names and two values, b, its list; each alias is three.
    aliases, rest = divmod(MAX_NODES - 9, 3)
    text = "a: &x {k: 1, m: 2}\nb:\n" + "- *x\n" * aliases + "- 1\n" * rest
    assert load(text)
    assert refusal(text + "- 1\n") == (3 + aliases + rest, 3, TOO_MANY)


@pytest.mark.parametrize("leaf", ["x", "'x'", "x y", "[]", "{}", "&a x"])
@pytest.mark.parametrize("sign", ["k", "~"])
def test_the_longest_pointer_is_read_and_none_longer(leaf: str, sign: str) -> None:
    name = sign * 50
    step = 1 + len(name) * (2 if sign == "~" else 1)  # RFC 6901 writes ~ as ~0
    levels, rest = divmod(MAX_POINTER - 2, step)
    above = "".join(f'{" " * n}"{name}":\n' for n in range(levels))
    last = " " * levels + "x" * (rest + 1)
    assert load(f"{above}{last}: {leaf}\n")
    assert refusal(f"{above}{last}x: {leaf}\n")[::2] == (levels + 1, TOO_LONG)
