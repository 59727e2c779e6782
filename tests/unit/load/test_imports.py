"""What loading drags in and touches, watched from inside a fresh process."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from making.manifests import CLUB

from preflint.arrays import one_thread

WITHOUT_NUMPY = """
import sys
import preflint.load.tree, preflint.load.yaml.events
print([name for name in ("numpy", "jsonschema", "difflib") if name in sys.modules])
"""

WATCHED = """
import sys
from pathlib import Path
from preflint.load.tables.table import read_table
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml
load_yaml(b"a: 1", "first.airframe.yaml")  # classes compile the function that makes an instance with the first one
read_table(Tree.around(Path(sys.argv[1])), "logs/run.csv")  # and numpy is loaded with the first table
seen = []
sys.addaudithook(lambda event, args: seen.append((event, args)))
tree = Tree.around(Path(sys.argv[1]))
load_yaml(tree.read("kite.airframe.yaml", 1000), "kite.airframe.yaml")
read_table(tree, "logs/run.csv")
watch = ("open", "exec", "compile", "import", "os.system", "subprocess.Popen", "socket.connect")
# A file is opened by its name first and then once more by its descriptor.
print([(event, args[0]) for event, args in seen if event in watch and not isinstance(args[0], int)])
"""


THREADS = """
import atexit, os, sys
atexit.register(lambda: print(len(os.listdir("/proc/self/task")), "numpy" in sys.modules, file=sys.stderr))
from preflint.cli.main import run
sys.argv = ["preflint", "inspect", sys.argv[1]]
run()
"""


def output(script: str, *arguments: str) -> str:
    run = subprocess.run([sys.executable, "-I", "-c", script, *arguments], capture_output=True, text=True)
    assert run.stderr == ""
    return run.stdout.strip()


def test_reading_a_manifest_needs_no_numpy() -> None:
    assert output(WITHOUT_NUMPY) == "[]"


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="no list of threads here")
def test_no_thread_for_each_core_is_started() -> None:
    environment = {name: value for name, value in os.environ.items() if not name.endswith("_NUM_THREADS")}
    command = [sys.executable, "-c", THREADS, str(CLUB / "heron.airframe.yaml")]
    run = subprocess.run(command, env=environment, capture_output=True, text=True)
    assert run.stderr == "1 True\n"
    for set_by_hand in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        environment = {set_by_hand: "3"}
        one_thread(environment)
        assert environment == {set_by_hand: "3"}


def test_nothing_is_opened_but_the_files_and_their_folders_and_nothing_is_run(tmp_path: Path) -> None:
    (tmp_path / "logs").mkdir()
    (tmp_path / "kite.airframe.yaml").write_text("a: 'import os'\nb: \"!!python/name:os.system\"\n")
    (tmp_path / "logs" / "run.csv").write_text("a\n1\n")
    opened = [str(tmp_path), "kite.airframe.yaml", str(tmp_path), "logs", "run.csv"]
    assert output(WATCHED, str(tmp_path / "kite.airframe.yaml")) == str([("open", name) for name in opened])
