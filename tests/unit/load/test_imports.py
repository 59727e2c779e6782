"""What loading drags in and touches, watched from inside a fresh process."""

import subprocess
import sys
from pathlib import Path

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


def output(script: str, *arguments: str) -> str:
    run = subprocess.run([sys.executable, "-I", "-c", script, *arguments], capture_output=True, text=True)
    assert run.stderr == ""
    return run.stdout.strip()


def test_reading_a_manifest_needs_no_numpy() -> None:
    assert output(WITHOUT_NUMPY) == "[]"


def test_nothing_is_opened_but_the_files_and_their_folders_and_nothing_is_run(tmp_path: Path) -> None:
    (tmp_path / "logs").mkdir()
    (tmp_path / "kite.airframe.yaml").write_text("a: 'import os'\nb: \"!!python/name:os.system\"\n")
    (tmp_path / "logs" / "run.csv").write_text("a\n1\n")
    opened = [str(tmp_path), "kite.airframe.yaml", str(tmp_path), "logs", "run.csv"]
    assert output(WATCHED, str(tmp_path / "kite.airframe.yaml")) == str([("open", name) for name in opened])
