"""The build backend: setuptools, with archives of the same bytes each time, and a line more in an editable install.

Times, owners, the order of a folder and the umask are taken out of the archives, so that anybody can make them again
and compare.

Two packages lie in folders of other names (rules, schemas), so setuptools finds the packages of an editable install by
a hook that runs at each start of Python. A type checker runs no hooks; it reads the folders that ``.pth`` files name.
So the editable wheel, and no other, gets one that names this tree.
"""

import base64
import gzip
import hashlib
import io
import tarfile
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from setuptools import build_meta
from setuptools.build_meta import (
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


def build_sdist(sdist_directory: str, config_settings: dict[str, Any] | None = None) -> str:
    """The name of setuptools' source archive, of the same bytes each time."""
    name = build_meta.build_sdist(sdist_directory, config_settings)
    path = Path(sdist_directory, name)
    packed = io.BytesIO()
    with tarfile.open(path) as given, tarfile.open(fileobj=packed, mode="w", format=tarfile.PAX_FORMAT) as made:
        for member in sorted(given.getmembers(), key=lambda member: member.name):
            member.mtime, member.uid, member.gid, member.uname, member.gname = 0, 0, 0, "", ""
            member.mode = 0o755 if member.isdir() or member.mode & 0o100 else 0o644
            member.pax_headers = {}
            made.addfile(member, given.extractfile(member) if member.isfile() else None)
    with open(path, "wb") as file, gzip.GzipFile("", "wb", fileobj=file, mtime=0) as archive:
        archive.write(packed.getvalue())
    return name


def build_wheel(
    wheel_directory: str,
    config_settings: dict[str, Any] | None = None,
    metadata_directory: str | None = None,
) -> str:
    """The name of setuptools' wheel, of the same bytes each time."""
    name = build_meta.build_wheel(wheel_directory, config_settings, metadata_directory)
    _write(Path(wheel_directory, name), _files(Path(wheel_directory, name)))
    return name


def build_editable(
    wheel_directory: str,
    config_settings: dict[str, Any] | None = None,
    metadata_directory: str | None = None,
) -> str:
    """The name of setuptools' editable wheel, PTH added to it and to its list of files (PEP 660, PEP 427)."""
    name = build_meta.build_editable(wheel_directory, config_settings, metadata_directory)
    path = Path(wheel_directory, name)
    files = _files(path)
    line = f"{TREE}\n".encode()
    digest = base64.urlsafe_b64encode(hashlib.sha256(line).digest()).decode().rstrip("=")
    (record,) = (file for file in files if file.endswith(".dist-info/RECORD"))
    files[PTH] = line
    files[record] += f"{PTH},sha256={digest},{len(line)}\n".encode()
    _write(path, files)
    return name


def _files(wheel: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(wheel) as archive:
        return {info.filename: archive.read(info) for info in archive.infolist()}


def _write(wheel: Path, files: Mapping[str, bytes]) -> None:
    """As PEP 427 has it: what is known of the wheel comes last, its list of files at the very end."""
    with zipfile.ZipFile(wheel, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(files, key=lambda file: (file.endswith("/RECORD"), ".dist-info/" in file, file)):
            info = zipfile.ZipInfo(file)  # of 1980, the first time that the format knows
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o100644 << 16
            archive.writestr(info, files[file])
