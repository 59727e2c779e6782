"""A real Dask cluster of two workers, one of which is killed on the way: nothing lost, nothing doubled."""

import importlib.util
import os
import subprocess
import sys
from pathlib import Path

import pytest
from making.manifests import CLUB
from making.program import PROGRAM

RULES = '''
import os, signal
from preflint.api import *
@rule("deadly/once", each="aircraft", severity=ADVISORY, job=Job.RECORD, precaution="none", source="none")
def once(aircraft, on):
    """Kills whoever asks it first of one aircraft. It does not check anything."""
    if aircraft.about.name.value == "Siskin" and "KILLED" in os.environ:
        try:
            os.close(os.open(os.environ["KILLED"], os.O_CREAT | os.O_EXCL))
            os.kill(os.getpid(), signal.SIGKILL)
        except FileExistsError:
            pass
    return Clear("asked")
MODULE = RuleModule(api=1, name="deadly", rules=(once,))
'''

CLUSTER = """
import sys
from distributed import LocalCluster
if __name__ == "__main__":
    with LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster:
        print(cluster.scheduler_address, flush=True)
        sys.stdin.read()
"""


@pytest.mark.skipif(importlib.util.find_spec("distributed") is None, reason="the extra [cluster] is not installed")
def test_a_cluster_that_loses_a_worker_gives_the_same_bytes(tmp_path: Path) -> None:
    (tmp_path / "deadly_rules.py").write_text(RULES)
    (tmp_path / "cluster.py").write_text(CLUSTER)
    path = os.pathsep.join([str(tmp_path), os.environ.get("PYTHONPATH", "")])
    here = {**os.environ, "PYTHONPATH": path}
    command = [
        str(PROGRAM), "inspect", str(CLUB), "--as-of", "2026-05-21", "--format", "json", "--rules", "deadly_rules",
    ]  # fmt: skip
    alone = subprocess.run(command, capture_output=True, env=here, timeout=120)
    with subprocess.Popen(
        [sys.executable, str(tmp_path / "cluster.py")],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True,
        env={**here, "KILLED": str(tmp_path / "killed")},
    ) as cluster:  # fmt: skip
        assert cluster.stdout
        address = cluster.stdout.readline().strip()
        done = subprocess.run([*command, "--cluster", address], capture_output=True, env=here, timeout=120)
        cluster.communicate()
    assert (tmp_path / "killed").exists()
    assert (done.returncode, done.stdout) == (alone.returncode, alone.stdout)
    assert alone.returncode == 1
