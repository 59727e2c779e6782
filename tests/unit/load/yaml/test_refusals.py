"""What a document is refused for: every complaint in full, with its place."""

# ruff: noqa: E501 - a row of a table of cases stays on one line

import pytest

from preflint.errors import NotRead
from preflint.load.yaml.events import load_yaml

Found = list[tuple[int, int, int, int, str]]


def problems(text: str | bytes) -> Found:
    data = text if isinstance(text, bytes) else text.encode()
    with pytest.raises(NotRead) as refused:
        load_yaml(data, "a.airframe.yaml")
    assert refused.value.file == "a.airframe.yaml"
    found = []
    for problem in refused.value.problems:
        place = problem.place
        assert place is not None
        assert (place.file, place.pointer) == ("a.airframe.yaml", "")
        found.append((place.line, place.column, place.end_line, place.end_column, problem.message))
    return found


def one(text: str | bytes) -> tuple[int, int, int, int, str]:
    (problem,) = problems(text)
    return problem


TAG = "a tag (text that begins with !) is not used here; delete it, or put text in quotes"
ODD = "a space of another kind stands here (U+00A0, no-break space); replace it with a plain space"
NO_KEY = "a name must be text, not a list or a group"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a: 1\nb: 2\na: 3\n", (3, 1, 3, 2, '"a" is written on line 1 and again on line 3; keep one of them')),
        ("{a: 1, a: 2}", (1, 8, 1, 9, '"a" is written twice on line 1; keep one of them')),
        ('a: {"b": 1, b: 2}', (1, 13, 1, 14, '"b" is written twice on line 1; keep one of them')),
        ("1: a\n", (1, 1, 1, 2, 'a name must be text; write "1" with the quotes')),
        ("1.0: a\n", (1, 1, 1, 4, 'a name must be text; write "1.0" with the quotes')),
        ("true: a\n", (1, 1, 1, 5, 'a name must be text; write "true" with the quotes')),
        ("no: a\n", (1, 1, 1, 3, 'a name must be text; write "no" with the quotes')),
        ("~: a\n", (1, 1, 1, 2, 'a name must be text; write "~" with the quotes')),
        ("? [a]\n: 1\n", (1, 3, 1, 4, NO_KEY)),
        ("? {a: 1}\n: 1\n", (1, 3, 1, 4, NO_KEY)),
        ("é: 1\n", (1, 1, 1, 2, 'the name "\\xe9" must be of plain letters, digits and hyphens')),
        ("a\u00a0b: 1\n", (1, 1, 1, 4, ODD)),
        ("a: b\u00a0\n", (1, 4, 1, 6, ODD)),
        ("“a”: 1\n", (1, 1, 1, 4, "curly quotes are letters here; write the name without quotes")),
        ("a: “b c”\n", (1, 4, 1, 9, "“b c” stands in curly quotes, which are letters here; write plain quotes, or none")),
        ("a: {b = 1}\n", (1, 5, 1, 10, "a colon and a space stand between a name and its value, no =")),
        ("a {b: 1}\n", (1, 1, 1, 5, "a colon and a space are missing before the bracket")),
        ("a: {b: 1,300}\n", (1, 8, 1, 13, '"1,300" has a comma; write 1.300 if it is the decimal sign, 1300 if it sets off thousands')),
        ("a: {b: 1,300,000, c: 2}\n", (1, 8, 1, 17, '"1,300,000" has commas; write 1300000')),
        ("a: {b: 4,8, c: 2}\n", (1, 8, 1, 11, '"4,8" has a comma; the decimal sign is a point: write 4.8')),
        ('"": 1\n', (1, 1, 1, 3, 'the name "" must be of plain letters, digits and hyphens')),
        ('"a\\tb": 1\n', (1, 1, 1, 7, 'the name "a\\tb" must be of plain letters, digits and hyphens')),
        ("x" * 101 + ": 1\n", (1, 1, 1, 102, "a name of 101 characters; at most 100 are read")),
        ("&k a: 1\n", (1, 4, 1, 5, "a name cannot carry an & mark; delete the mark")),
        ("a: &x b\n*x : 1\n", (2, 1, 2, 3, "*x cannot stand for a name; write the name out")),
        ("{[a], b: 1}\n", (1, 2, 1, 3, NO_KEY)),
        ("<<: {a: 1}\n", (1, 1, 1, 3, "<< (merging another group in) is not used here; write the entries out")),
        ("a: !!str b\n", (1, 4, 1, 5, TAG)),
        ("a: ! b\n", (1, 4, 1, 5, TAG)),
        ("a: !own {b: 1}\n", (1, 4, 1, 5, TAG)),
        ("a: !!python/object/apply:os.system [x]\n", (1, 4, 1, 5, TAG)),
        ("!!map\na: 1\n", (1, 1, 1, 2, TAG)),
        ("a: !!float x\n", (1, 4, 1, 5, TAG)),
        ("a: !!bool maybe\n", (1, 4, 1, 5, TAG)),
        ("a: !!timestamp x\n", (1, 4, 1, 5, TAG)),
        ("a: !!int '0x'\n", (1, 4, 1, 5, TAG)),
        ("%TAG ! x\n---\na: 1\n", (1, 1, 1, 2, "%TAG is not used here; delete the line")),
        ("a: 1\n---\nb: 1\n", (2, 1, 2, 4, "a second document starts here; a file holds one")),
        ("a:\nb: 1\n", (1, 1, 1, 2, 'nothing is written after "a"; write the value, indent the lines that belong to it, or leave the line out')),
        ("a: {b: , c: 1}\n", (1, 5, 1, 6, 'nothing is written after "b"; write the value, or leave the line out')),
        ("a:\n  - 1\n  -\n", (3, 3, 3, 4, "a list entry is empty; write its value, or delete it")),
        ("{a:1, b: 2}\n", (1, 2, 1, 5, '"a:1" needs a space after its colon')),
        ("a: [1, 2, no]\n", (1, 11, 1, 13, '"no" is read differently by different programs; write false; if it is text, write "no"')),
        ("", (1, 1, 1, 1, "the file is empty")),
        (" \n\n", (1, 1, 1, 1, "the file is empty")),
        ("# a: 1\n", (1, 1, 1, 1, "the file holds nothing but comments")),
        ("---\n", (2, 1, 2, 1, "the file holds no entries")),
        ("- a\n", (1, 1, 1, 2, "the file must begin with names, not with a list")),
        ("[a]\n", (1, 1, 1, 2, "the file must begin with names, not with a list")),
        ("\n'a b'\n", (2, 1, 2, 6, 'the file must hold names with values, as in "preflint: 1"')),
        ("a\n", (1, 1, 1, 2, 'the file must hold names with values, as in "preflint: 1"')),
        ("a: *x\n", (1, 4, 1, 6, '*x names nothing above it; if it is text, write "*x"')),
        ("a: &x [*x]\n", (1, 8, 1, 10, "*x stands inside the very value it names")),
        ("a: &x {b: {c: *x}}\n", (1, 15, 1, 17, "*x stands inside the very value it names")),
        ("a: &x 1\nb: &x 2\n", (2, 4, 2, 5, "&x is set twice; give each its own name")),
        ("a: &x {b: &x {c: 1}}\n", (1, 11, 1, 12, "&x is set twice; give each its own name")),
        ('a: "\\e[2J"\n', (1, 4, 1, 11, "a backslash code stands for a control character (U+001B), which cannot be seen; for a plain backslash use single quotes")),
        ('a: "\\u202e"\n', (1, 4, 1, 12, "a backslash code stands for an unseen character that turns the text after it round (U+202E, right-to-left override); for a plain backslash use single quotes")),
    ],
)
def test_structure_that_is_refused(text: str, expected: tuple[int, int, int, int, str]) -> None:
    assert one(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (b"a: caf\xe9\n", (1, 7, 1, 8, "the byte 0xE9 at offset 6 is not UTF-8; save the file as UTF-8")),
        (b"a: 1\n\xc3\xa9: \xc0\xaf", (2, 4, 2, 5, "the byte 0xC0 at offset 9 is not UTF-8; save the file as UTF-8")),
        (b"\xef\xbb\xbfa: \xff", (1, 4, 1, 5, "the byte 0xFF at offset 6 is not UTF-8; save the file as UTF-8")),
        (b"a: \xf0\x9f\x98", (1, 4, 1, 5, "the byte 0xF0 at offset 3 is not UTF-8; save the file as UTF-8")),
        ("a: 1".encode("utf-16"), (1, 1, 1, 1, "the file is saved as UTF-16; save it as UTF-8")),
        (b"\xfe\xff\x00a", (1, 1, 1, 1, "the file is saved as UTF-16; save it as UTF-8")),
        ("a: 1".encode("utf-32"), (1, 1, 1, 1, "the file is saved as UTF-32; save it as UTF-8")),
        ("a: 1".encode("utf-16-le"), (1, 1, 1, 1, "the file holds zero bytes, as UTF-16, UTF-32 and binary files do; save it as UTF-8 text")),
        (b"\x1f\x8b\x08\x00", (1, 1, 1, 1, "the file is compressed; unpack it first")),
        ("a: long\0\n", (1, 8, 1, 9, "a control character (U+0000), which cannot be seen; delete it")),
        ("a: \x1b[2J\n", (1, 4, 1, 5, "a control character (U+001B), which cannot be seen; delete it")),
        ("a: b # \x9b\n", (1, 8, 1, 9, "a control character (U+009B), which cannot be seen; delete it")),
        ("# note\u2028cells: 4\na: 1\n", (1, 7, 1, 8, "a line end that editors do not show (U+2028, line separator); replace it with an ordinary line end")),
        ("# note\u2029cells: 4\na: 1\n", (1, 7, 1, 8, "a line end that editors do not show (U+2029, paragraph separator); replace it with an ordinary line end")),
        ("# note\x85cells: 4\na: 1\n", (1, 7, 1, 8, "a line end that editors do not show (U+0085); replace it with an ordinary line end")),
        ("# note\rcells: 4\na: 1\n", (1, 7, 1, 8, "a line end that editors do not show (U+000D); replace it with an ordinary line end")),
        ("a: x\u202ey\n", (1, 5, 1, 6, "an unseen character that turns the text after it round (U+202E, right-to-left override); delete it")),
        ("a: 😀\u2066y\n", (1, 5, 1, 6, "an unseen character that turns the text after it round (U+2066, left-to-right isolate); delete it")),
        ("a: x\u200by\n", (1, 5, 1, 6, "an unseen character (U+200B, zero width space); delete it")),
        ("a: 1\n\ufeffb: 2\n", (2, 1, 2, 2, "an unseen character (U+FEFF, zero width no-break space); delete it")),
        ("a: x\uffff\n", (1, 5, 1, 6, "an unseen character (U+FFFF); delete it")),
    ],
)
def test_bytes_and_characters_that_are_refused(text: str | bytes, expected: tuple[int, int, int, int, str]) -> None:
    assert one(text) == expected


def test_a_hidden_line_end_hides_nothing_and_shifts_no_line() -> None:
    found = problems("a: 1 # x\u2028a: 2\nb: no\na: 3\n")
    assert [(line, column) for line, column, *_ in found] == [(1, 9), (2, 4), (3, 1)]
    assert found[2][4] == '"a" is written on line 1 and again on line 3; keep one of them'


TWENTY = """\
a: 1
a: 2
b: no
c: 012
d: 12:30
e: 1e3
f: 1_000
g: 0x1f
h: ~
i:
j: +5
k: .5
l: 5.
m: .nan
o: 24,11
p: !!str q
<<: {q: 1}
1: r
é: s
t: *u
v: x\u202ey
w: [
"""


def test_twenty_mistakes_are_named_in_one_go_and_in_order() -> None:
    found = problems(TWENTY)
    assert [line for line, *_ in found] == list(range(2, 22))
    # The open bracket is not blamed: what stands in the file before it may be why it fails.
    assert found[-1][4].startswith("an unseen character that turns the text")


def test_a_syntax_error_ends_the_list() -> None:
    found = problems(TWENTY.replace("\u202e", ""))
    assert [line for line, *_ in found] == [*range(2, 21), 22]  # where the bracket was opened


def test_the_hundredth_problem_is_the_last_that_is_named() -> None:
    with pytest.raises(NotRead) as refused:
        load_yaml(b"".join(b"k%d: no\n" % count for count in range(130)), "a.airframe.yaml")
    named = refused.value.problems
    assert [p.place.line for p in named[:-1] if p.place] == list(range(1, 101))
    assert (named[-1].message, named[-1].place) == ("and 30 more problems in this file", None)


def test_limits_are_exact() -> None:
    deep = "a: " + "[" * 63 + "1" + "]" * 63
    assert load_yaml(deep.encode(), "a").plain()
    assert one("a: " + "[" * 64 + "]" * 64) == (1, 67, 1, 68, "more than 64 groups or lists inside one another")
    many = "a: [" + "1," * 19_997 + "]"
    assert load_yaml(many.encode(), "a").plain()
    assert one("a: [" + "1," * 19_998 + "]")[4] == "the file holds more than 20000 values"
    assert load_yaml(b"a: " + b"x" * 65536, "a").plain()
    assert one(b"a: " + b"x" * 65537) == (1, 4, 1, 65541, "a text of 65537 characters; at most 65536 are read")
    full = b"a: 1\n" + b"#" * (262_144 - 5)
    assert load_yaml(full, "a").plain() == {"a": 1}
    assert one(full + b"#") == (1, 1, 1, 1, "the file has 262145 bytes; at most 262144 are read")


def test_aliases_count_as_what_they_stand_for() -> None:
    lines = ["a0: &a0 [1, 1, 1, 1, 1, 1, 1, 1, 1, 1]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 60)]
    line, _, _, _, message = one("\n".join(lines))
    assert (line, message) == (5, "the file holds more than 20000 values")
    nested = ["a0: &a0 [1]"] + [f"a{n}: &a{n} [*a{n - 1}]" for n in range(1, 80)]
    line, _, _, _, message = one("\n".join(nested))
    assert (line, message) == (64, "more than 64 groups or lists inside one another")


def test_names_inside_names_have_a_limit_of_length_altogether() -> None:
    text = "{" + ("x" * 90 + ": {") * 12 + "a: 1" + "}" * 13
    assert one(text)[4] == "names inside names are too long altogether"
