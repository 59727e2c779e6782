"""The real server, one for the tests of a module; it must live until they end."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from making.language_server import Server


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    folder = tmp_path_factory.mktemp("started")
    command = [str(Path(sys.executable).with_name("preflint")), "language-server"]
    started = Server(command, folder, cwd=folder, errors=subprocess.DEVNULL)
    yield started
    assert started.process.poll() is None, "the server ended by itself"
    started.end()
