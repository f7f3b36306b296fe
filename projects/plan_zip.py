"""A plan with its pictures in one zip file: plan.json and pictures/NAME.jpg."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass

from projects.engine.errors import EngineError
from projects.engine.plan.json_text import MAX_BYTES
from projects.pictures import MAX_UPLOAD_BYTES, Clean, clean

PLAN_NAME = "plan.json"
FOLDER = "pictures/"
MAX_ZIP_BYTES = 60_000_000
MAX_ENTRIES = 210
MAX_TOTAL_BYTES = 100_000_000
_PACKINGS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
# the first moment a zip can hold, so that one plan always makes the same file
_WHEN = (1980, 1, 1, 0, 0, 0)


class ZipError(EngineError):
    """Tell why a zip file is not taken as a plan."""


@dataclass(frozen=True, kw_only=True)
class Packed:
    """A plan file's bytes and the pictures beside it."""

    plan: bytes
    pictures: tuple[Clean, ...]


def is_zip(data: bytes) -> bool:
    """Tell whether a file is a zip by how it begins."""
    return data[:4] == b"PK\x03\x04"


def pack(plan: bytes, pictures: Mapping[str, bytes]) -> bytes:
    """Return a zip of a plan file and its pictures; the same each time."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        _write(made, PLAN_NAME, plan, zipfile.ZIP_DEFLATED)
        for name in sorted(pictures):
            # a JPEG is packed already
            _write(made, FOLDER + name, pictures[name], zipfile.ZIP_STORED)
    return out.getvalue()


def _write(made: zipfile.ZipFile, name: str, data: bytes, packing: int) -> None:
    entry = zipfile.ZipInfo(name, date_time=_WHEN)
    entry.compress_type = packing
    entry.external_attr = 0o600 << 16
    made.writestr(entry, data)


def unpack(data: bytes) -> Packed:
    """Return the plan and the pictures of a zip, each picture cleaned.

    Nothing is written to disk and no name in the zip is used as a path. Raises
    `ZipError` or `PictureError` for anything that doesn't belong, is too large, or
    unpacks to more than it says.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            return _read(packed)
    except EngineError:
        raise
    # a broken zip fails in many ways: OSError, ValueError, zlib.error, RuntimeError …
    except Exception as error:
        raise ZipError("this zip file can't be read ({why})", why=error) from error


def _read(packed: zipfile.ZipFile) -> Packed:
    entries = [entry for entry in packed.infolist() if not entry.is_dir()]
    total = sum(entry.file_size for entry in entries)
    if len(entries) > MAX_ENTRIES or total > MAX_TOTAL_BYTES:
        raise ZipError("a plan's zip holds at most 210 files and 100 MB")
    if any(entry.compress_type not in _PACKINGS for entry in entries):
        raise ZipError("this zip is packed in a way that isn't read; zip it anew")
    names = [entry.filename for entry in entries]
    if len(set(names)) < len(names):
        raise ZipError("this zip holds two files of one name")
    if PLAN_NAME not in names:
        raise ZipError("this zip holds no plan.json")
    plan, pictures = b"", []
    for entry in entries:
        if entry.filename == PLAN_NAME:
            plan = _bounded(packed, entry, MAX_BYTES + 1)
            continue
        name = entry.filename.removeprefix(FOLDER)
        if not entry.filename.startswith(FOLDER) or "/" in name or not name:
            raise ZipError(
                "{name}: a plan's zip holds plan.json and pictures/ only",
                name=entry.filename[:80],
            )
        found = _bounded(packed, entry, MAX_UPLOAD_BYTES + 1)
        pictures.append(clean(found, file_name=name))
    return Packed(plan=plan, pictures=tuple(pictures))


def _bounded(packed: zipfile.ZipFile, entry: zipfile.ZipInfo, most: int) -> bytes:
    """Return an entry's bytes, reading at most `most` whatever its header says."""
    with packed.open(entry) as file:
        return file.read(most)
