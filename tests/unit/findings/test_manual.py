"""The fragments of a manual page: "the same with" changes what it names, and nothing else."""

import pytest

from preflint.findings.manual import failing, passing, written_out

PAGE = """Does it hold?

    Why: it matters.

Fails:

    site: {latitude_deg: 54.4}
    compass: {offset: [1, 2, 3]}
    records:
      hover: [{date: 2026-05-17, mean_current_a: 24}]
      run:
        - date: 2026-05-16
          rows: [[0, 1], [2, 3],
                 [4, 5]]
        - {date: 2026-05-17}

Passes: the same with

CHANGES
Not checked: anything else.
"""
SITE, COMPASS = "site: {latitude_deg: 54.4}\n", "compass: {offset: [1, 2, 3]}\n"
HOVER = "  hover: [{date: 2026-05-17, mean_current_a: 24}]\n"
RUN = "  run:\n    - date: 2026-05-16\n      rows: [[0, 1], [2, 3],\n             [4, 5]]\n    - {date: 2026-05-17}\n"


def page(changes: str) -> str:
    return PAGE.replace("CHANGES", "".join(f"    {line}\n" for line in changes.split("\n")))


def test_the_failing_fragment_is_as_written() -> None:
    assert failing(page("compass: {}")) == f"{SITE}{COMPASS}records:\n{HOVER}{RUN}"


def test_a_flow_value_is_replaced_whole() -> None:
    assert passing(page("compass: {hard: 1}")) == f"{SITE}compass: {{hard: 1}}\nrecords:\n{HOVER}{RUN}"


def test_a_group_is_changed_key_by_key() -> None:
    assert passing(page("records:\n  hover: []")) == f"{SITE}{COMPASS}records:\n  hover: []\n{RUN}"


def test_a_list_is_replaced_with_all_its_lines() -> None:
    assert passing(page("records:\n  run:\n    - {date: 2026-05-18}")) == (
        f"{SITE}{COMPASS}records:\n{HOVER}  run:\n    - {{date: 2026-05-18}}\n"
    )


def test_what_is_new_comes_at_the_end_of_its_level() -> None:
    assert passing(page("records:\n  sag: []\npacks: []")) == (
        f"{SITE}{COMPASS}records:\n{HOVER}{RUN}  sag: []\npacks: []\n"
    )


def test_people_read_the_whole_fragment() -> None:
    shown = written_out(page("compass: {hard: 1}"))
    assert "the same with" not in shown
    assert shown.count("latitude_deg: 54.4") == 2
    assert "Passes:\n\n    site: {latitude_deg: 54.4}\n    compass: {hard: 1}\n    records:\n" in shown
    assert shown.endswith("        - {date: 2026-05-17}\n\nNot checked: anything else.\n")


def test_a_page_with_both_fragments_whole_is_left_alone() -> None:
    whole = page("compass: {}").replace("Passes: the same with", "Passes:")
    assert written_out(whole) == whole
    assert passing(whole) == "compass: {}\n"


@pytest.mark.parametrize("heading", ["Fails:", "Passes: the same with"])
def test_a_page_without_a_fragment_is_an_error(heading: str) -> None:
    with pytest.raises(LookupError):
        passing(page("compass: {}").replace(heading, "Elsewhere:"))


def test_what_does_not_begin_with_a_key_is_no_fragment() -> None:
    with pytest.raises(LookupError, match="a fragment begins with a key, not with '- a list'"):
        passing(page("- a list"))
