"""Nothing outside the tree is read, whatever the names and links; all with real files."""

# ruff: noqa: E501 - a row of a table of cases stays on one line
import errno
import os
import pickle
import socket
import subprocess
import sys
from collections.abc import Callable
from io import BufferedReader
from pathlib import Path

import pytest

from preflint.errors import NotRead, UsageError
from preflint.load.opening import Refused, describe_failure, open_by_folder, open_by_path
from preflint.load.tree import Tree
from preflint.places import Place

LINK = "it is a link or leads through one; links are not followed"
NO_FILE = "there is no such file"
NO_NAME = "this is no name of a file inside the folder that may be read"


@pytest.fixture
def club(tmp_path: Path) -> Path:
    folder = tmp_path / "club"
    (folder / "fleet" / "logs").mkdir(parents=True)
    (folder / "preflint.yaml").write_text("preflint: 1\n")
    (folder / "fleet" / "kite.airframe.yaml").write_text("preflint: 1\n")
    (folder / "fleet" / "logs" / "run.csv").write_text("a\n1\n")
    (tmp_path / "secret").write_text("secret")
    return folder


def message(attempt: Callable[[], object]) -> str:
    with pytest.raises(NotRead) as refused:
        attempt()
    (problem,) = refused.value.problems
    return problem.message


def test_the_tree_is_the_folder_above_that_holds_a_policy(club: Path) -> None:
    tree = Tree.around(club / "fleet" / "kite.airframe.yaml")
    assert (tree.root, tree.policy) == (club, "preflint.yaml")
    assert tree.name(club / "fleet" / "kite.airframe.yaml") == "fleet/kite.airframe.yaml"
    assert tree.read("fleet/logs/run.csv", 100) == b"a\n1\n"
    assert pickle.loads(pickle.dumps(tree)) == tree


def test_without_a_policy_the_tree_is_the_manifests_own_folder(club: Path) -> None:
    (club / "preflint.yaml").unlink()
    tree = Tree.around(club / "fleet" / "kite.airframe.yaml")
    assert (tree.root, tree.policy) == (club / "fleet", None)


@pytest.mark.parametrize("kind", ["file", "folder", "dead link"])
def test_two_policies_on_the_way_up_are_refused(club: Path, kind: str) -> None:
    planted = club / "fleet" / "preflint.yaml"
    if kind == "file":
        planted.write_text("")
    elif kind == "folder":
        planted.mkdir()
    else:
        planted.symlink_to("nowhere")
    with pytest.raises(UsageError) as refused:
        Tree.around(club / "fleet" / "kite.airframe.yaml")
    manifest = club / "fleet" / "kite.airframe.yaml"
    assert str(refused.value) == (
        f"{manifest}: more than one policy on the way up: {planted} and {club / 'preflint.yaml'}; keep one of them"
    )


def test_a_relative_path_and_a_link_above_the_tree_lead_to_the_same_tree(
    club: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "short").symlink_to(club)
    expected = Tree(club, "preflint.yaml")
    assert Tree.around(tmp_path / "short" / "fleet" / "kite.airframe.yaml") == expected
    assert expected.name(tmp_path / "short" / "fleet" / "kite.airframe.yaml") == "fleet/kite.airframe.yaml"
    monkeypatch.chdir(club / "fleet" / "logs")
    assert Tree.around(Path("../kite.airframe.yaml")) == expected
    monkeypatch.chdir(club / "fleet")
    assert Tree.around(Path("kite.airframe.yaml")) == expected


def test_a_manifest_must_be_there_and_a_regular_file(club: Path) -> None:
    (club / "link.yaml").symlink_to(club / "fleet" / "kite.airframe.yaml")
    (club / "round.yaml").symlink_to("round.yaml")
    os.mkfifo(club / "pipe.yaml")
    assert message(lambda: Tree.around(club / "link.yaml")) == "this is a link; name the file itself"
    assert message(lambda: Tree.around(club / "round.yaml")) == "this is a link; name the file itself"
    assert message(lambda: Tree.around(club / "pipe.yaml")) == "this is not a regular file"
    assert message(lambda: Tree.around(club / "fleet")) == "this is not a regular file"
    assert message(lambda: Tree.around(club / "gone.yaml")) == NO_FILE
    assert message(lambda: Tree.around(club / "no" / "gone.yaml")) == NO_FILE
    assert message(lambda: Tree.around(Path("a\0b"))) == "this is no usable file name"
    assert message(lambda: Tree.around(club / ("x" * 300))) == "the name is too long"


@pytest.mark.parametrize("opener", [open_by_folder, open_by_path])
def test_links_pipes_and_devices_are_not_opened(
    club: Path, tmp_path: Path, opener: Callable[[Path, list[str], int], BufferedReader]
) -> None:
    (club / "to_file").symlink_to(tmp_path / "secret")
    (club / "inside").symlink_to(club / "fleet" / "logs" / "run.csv")
    (club / "to_folder").symlink_to(tmp_path)
    (club / "loop").symlink_to("loop")
    os.mkfifo(club / "pipe")
    with socket.socket(socket.AF_UNIX) as listener:
        here = os.getcwd()
        os.chdir(club)  # a socket's path has room for about a hundred characters only
        try:
            listener.bind("socket")
        finally:
            os.chdir(here)
    cases = [
        (club, ["to_file"], LINK),
        (club, ["inside"], LINK),
        (club, ["to_folder", "secret"], LINK),
        (club, ["loop"], LINK),
        (club, ["loop", "x"], LINK),
        (club, ["pipe"], "it is not a regular file"),
        (club, ["socket"], "it is not a regular file"),
        (club, ["fleet"], "it is a folder, not a file"),
        (club, ["preflint.yaml", "x"], NO_FILE),
        (Path("/dev"), ["zero"], "it is not a regular file"),
        (Path(f"/proc/{os.getpid()}"), ["root", "etc", "hostname"], LINK),
    ]
    for root, parts, why in cases:
        with pytest.raises(Refused, match=f"^{why}$"):
            opener(root, parts, 100)
    with pytest.raises(FileNotFoundError):
        opener(club, ["fleet", "gone"], 100)
    with opener(club, ["fleet", "logs", "run.csv"], 4) as file:
        assert file.read() == b"a\n1\n"
    with pytest.raises(Refused, match=r"^the file has 4 bytes; at most 3 are read$"):
        opener(club, ["fleet", "logs", "run.csv"], 3)


def test_no_descriptor_is_left_open(club: Path) -> None:
    (club / "fleet" / "link").symlink_to("logs")
    tree = Tree(club, None)
    before = set(os.listdir("/proc/self/fd"))
    for name in ("fleet/link/run.csv", "fleet/gone/x", "fleet/logs", "fleet/logs/run.csv/x", "fleet/logs/run.csv"):
        with pytest.raises(NotRead):
            tree.read(name, 1)
    assert set(os.listdir("/proc/self/fd")) == before


@pytest.mark.parametrize("name", ["", ".", "..", "../secret", "fleet/../../secret", "/etc/hostname", "a//b", "a\0b", "a/"])
def test_a_name_that_is_not_plain_is_refused(club: Path, name: str) -> None:
    assert message(lambda: Tree(club, None).read(name, 100)) == NO_NAME


def test_a_file_of_huge_size_is_refused_unread(club: Path) -> None:
    with open(club / "huge.csv", "wb") as file:
        file.truncate(50 * 1024**3)
    tree = Tree(club, None)
    assert message(lambda: tree.open("huge.csv")) == "the file has 53687091200 bytes; at most 2147483648 are read"
    assert message(lambda: tree.read("huge.csv", 7)) == "the file has 53687091200 bytes; at most 7 are read"


def test_a_file_that_is_longer_than_it_says_or_fails_while_it_is_read(club: Path) -> None:
    process = Tree(Path(f"/proc/{os.getpid()}"), None)  # its files claim to be empty; its memory starts unmapped
    assert message(lambda: process.read("status", 10)) == "the file grew beyond 10 bytes"
    assert message(lambda: process.read("mem", 10)) == "the system could not read it (EIO)"


@pytest.mark.parametrize(
    ("failure", "why"),
    [
        (OSError(errno.EACCES, "x"), "there is no permission to read it"),
        (OSError(errno.EPERM, "x"), "there is no permission to read it"),
        (OSError(errno.ELOOP, "x"), "it leads through a link"),
        (OSError(errno.EIO, "x"), "the system could not read it (EIO)"),
        (OSError(errno.EMFILE, "x"), "the system could not read it (EMFILE)"),
        (OSError("x"), "the system could not read it (unknown error)"),
        (ValueError("x"), "this is no usable file name"),
    ],
)
def test_a_failure_is_told_in_the_same_words_everywhere(failure: Exception, why: str) -> None:
    assert describe_failure(failure) == why


@pytest.mark.parametrize(
    ("reference", "name"),
    [
        ("logs/run.csv", "fleet/logs/run.csv"),
        ("./logs//run.csv", "fleet/logs/run.csv"),
        ("../sites/meadow.yaml", "sites/meadow.yaml"),
        ("logs/../../x", "x"),
        ("run 1.csv", "fleet/run 1.csv"),
        ("...", "fleet/..."),
        ("~/x", "fleet/~/x"),
        ("é.csv", "fleet/é.csv"),
    ],
)
def test_a_reference_counts_from_the_file_it_is_written_in(club: Path, reference: str, name: str) -> None:
    assert Tree(club, None).resolve("fleet/kite.airframe.yaml", reference) == name


@pytest.mark.parametrize(
    ("reference", "complaint"),
    [
        ("../../secret", '"../../secret" leads out of the folder that may be read'),
        ("../../club/preflint.yaml", '"../../club/preflint.yaml" leads out of the folder that may be read'),
        ("/etc/hostname", '"/etc/hostname" begins with a slash, which is the folder of preflint.yaml, and there is none above this file; name the file relative to the file that refers to it'),
        ("C:/x", '"C:/x" holds a colon; name a file beside this one, as in logs/run.csv'),
        ("http://x/y", '"http://x/y" holds a colon; name a file beside this one, as in logs/run.csv'),
        ("run.csv:hidden", '"run.csv:hidden" holds a colon; name a file beside this one, as in logs/run.csv'),
        ("logs\\run.csv", '"logs\\run.csv" holds a backslash; write folders with forward slashes'),
        ("", "the name of the file is empty"),
        ("logs/", '"logs/" names a folder, not a file'),
        (".", '"." names a folder, not a file'),
        ("logs/..", '"logs/.." names a folder, not a file'),
        ("a\0b", '"a\\x00b" holds characters that cannot be seen'),
        ("a\x1b[2Jb", '"a\\x1b[2Jb" holds characters that cannot be seen'),
        ("a\u202eb", '"a\\u202eb" holds characters that cannot be seen'),
        ("a\ud800b", '"a\\ud800b" holds characters that cannot be seen'),
    ],
)
def test_a_reference_that_cannot_be_meant_is_refused_at_its_place(
    club: Path, reference: str, complaint: str
) -> None:
    place = Place("fleet/kite.airframe.yaml", 3, 7, 3, 19, "/site")
    with pytest.raises(NotRead) as refused:
        Tree(club, None).resolve("fleet/kite.airframe.yaml", reference, place)
    assert refused.value.file == "fleet/kite.airframe.yaml"
    assert [(p.message, p.place) for p in refused.value.problems] == [(complaint, place)]


@pytest.mark.parametrize("referrer", ["kite.airframe.yaml", "fleet/kite.airframe.yaml", "fleet/parts/deep/motor.yaml"])
@pytest.mark.parametrize(
    ("reference", "name"),
    [("/parts/x.yaml", "parts/x.yaml"), ("//parts//x.yaml", "parts/x.yaml"), ("/fleet/../x.yaml", "x.yaml"), ("/x.yaml", "x.yaml")],
)
def test_a_slash_is_the_folder_of_the_policy(club: Path, referrer: str, reference: str, name: str) -> None:
    assert Tree(club, "preflint.yaml").resolve(referrer, reference) == name


@pytest.mark.parametrize(
    ("reference", "complaint"),
    [
        ("/../secret", '"/../secret" leads out of the folder that may be read'),
        ("/fleet/../../secret", '"/fleet/../../secret" leads out of the folder that may be read'),
        ("/", '"/" names a folder, not a file'),
        ("/fleet/", '"/fleet/" names a folder, not a file'),
        ("/C:/x", '"/C:/x" holds a colon; name a file beside this one, as in logs/run.csv'),
    ],
)
def test_a_slash_leads_no_higher(club: Path, reference: str, complaint: str) -> None:
    assert message(lambda: Tree(club, "preflint.yaml").resolve("fleet/kite.airframe.yaml", reference)) == complaint


def test_a_file_of_the_disk_is_looked_for_in_the_clubs_folder_alone(club: Path) -> None:
    tree = Tree.around(club / "fleet" / "kite.airframe.yaml")
    name = tree.resolve("fleet/kite.airframe.yaml", "/etc/hostname")
    assert Path("/etc/hostname").exists()
    assert message(lambda: tree.read(name, 1000)).startswith(NO_FILE)
    (club / "etc").symlink_to("/etc")
    assert message(lambda: tree.read(name, 1000)) == LINK


def test_a_file_outside_has_no_name_in_the_tree(club: Path, tmp_path: Path) -> None:
    tree = Tree(club, None)
    assert message(lambda: tree.name(tmp_path / "secret")) == f"the file is outside the folder {club}"
    assert message(lambda: tree.name(club / ".." / "secret")) == f"the file is outside the folder {club}"
    assert message(lambda: tree.name(club / "no" / "file")) == NO_FILE


def test_names_are_shown_without_anything_unseen(club: Path) -> None:
    tree = Tree(club, None)
    assert tree.shown(club / "fleet" / "logs") == "fleet/logs"
    assert tree.shown("a b/é😀.yaml") == "a b/é😀.yaml"
    assert tree.shown("a\nb\x1b\x9b\u202e\udcff") == "a\\nb\\x1b\\x9b\\u202e\\udcff"
    assert tree.shown(Path("/elsewhere/x")) == "/elsewhere/x"


def test_a_name_that_is_not_text_can_be_read_and_shown(club: Path) -> None:
    with open(os.fsencode(club) + b"/\xff\n\x1b.yaml", "wb") as file:
        file.write(b"a: 1")
    (name,) = (entry for entry in os.listdir(club) if entry.endswith("\n\x1b.yaml"))
    tree = Tree.around(club / name)
    assert tree.read(tree.name(club / name), 9) == b"a: 1"
    assert tree.shown(name) == "\\udcff\\n\\x1b.yaml"


SWAPPER = """
import os, sys
os.chdir(sys.argv[1])
os.symlink(sys.argv[2], "link")
print("ready", flush=True)
while True:
    os.replace("link", "victim"); os.symlink(sys.argv[2], "link")
    with open("plain", "w") as file: file.write("plain")
    os.replace("plain", "victim")
"""


@pytest.mark.parametrize("secret", ["secret", "folder"])
def test_a_file_swapped_for_a_link_while_it_is_opened_is_never_followed(tmp_path: Path, secret: str) -> None:
    tree = tmp_path / "tree"
    tree.mkdir()
    (tmp_path / "secret").write_text("secret")
    (tmp_path / "folder").mkdir()
    (tmp_path / "folder" / "inner").write_text("secret")
    name = "victim" if secret == "secret" else "victim/inner"
    with subprocess.Popen(
        [sys.executable, "-I", "-c", SWAPPER, str(tree), str(tmp_path / secret)], stdout=subprocess.PIPE
    ) as swapper:
        assert swapper.stdout is not None
        swapper.stdout.readline()
        outcomes = set()
        try:
            for _ in range(3000):
                try:
                    with open_by_folder(tree, name.split("/"), 100) as file:
                        outcomes.add(file.read())
                except (Refused, OSError):
                    outcomes.add(b"refused")
        finally:
            swapper.kill()
    assert b"secret" not in outcomes
    assert b"refused" in outcomes
