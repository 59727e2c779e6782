"""The build backend: setuptools, with one more line in an editable install, for type checkers.

Two packages lie in folders of other names (rules, schemas), so setuptools finds the packages of an editable install by
a hook that runs at each start of Python. A type checker runs no hooks; it reads the folders that ``.pth`` files name.
So the editable wheel, and no other, gets one that names this tree.
"""

import base64
import hashlib
import zipfile
from pathlib import Path
from typing import Any

from setuptools import build_meta
from setuptools.build_meta import (
    build_sdist,
    build_wheel,
    get_requires_for_build_editable,
    get_requires_for_build_sdist,
    get_requires_for_build_wheel,
    prepare_metadata_for_build_editable,
    prepare_metadata_for_build_wheel,
)

__all__ = [
    "build_editable",
    "build_sdist",
    "build_wheel",
    "get_requires_for_build_editable",
    "get_requires_for_build_sdist",
    "get_requires_for_build_wheel",
    "prepare_metadata_for_build_editable",
    "prepare_metadata_for_build_wheel",
]

TREE = Path(__file__).resolve().parents[1]
PTH = "preflint_tree.pth"


def build_editable(
    wheel_directory: str,
    config_settings: dict[str, Any] | None = None,
    metadata_directory: str | None = None,
) -> str:
    """The name of setuptools' editable wheel, PTH added to it and to its list of files (PEP 660, PEP 427)."""
    name = build_meta.build_editable(wheel_directory, config_settings, metadata_directory)
    path = Path(wheel_directory, name)
    with zipfile.ZipFile(path) as wheel:
        files = {info.filename: wheel.read(info) for info in wheel.infolist()}
    line = f"{TREE}\n".encode()
    digest = base64.urlsafe_b64encode(hashlib.sha256(line).digest()).decode().rstrip("=")
    (record,) = (file for file in files if file.endswith(".dist-info/RECORD"))
    files[PTH] = line
    files[record] += f"{PTH},sha256={digest},{len(line)}\n".encode()
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as wheel:
        for file, data in sorted(files.items(), key=lambda item: item[0] == record):  # the list comes last
            wheel.writestr(file, data)
    return name
