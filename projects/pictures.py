"""Pictures from strangers: checked by content, made small, without metadata."""

from __future__ import annotations

import hashlib
import io
import re
import threading
import warnings
from dataclasses import dataclass

from PIL import Image, ImageOps, UnidentifiedImageError

from projects.engine.errors import EngineError

MAX_UPLOAD_BYTES = 12_000_000
MAX_PIXELS = 24_000_000
MAX_SCANS = 100
"""A progressive JPEG has about 10 scans; each costs a pass over the whole picture."""
LONGEST_SIDE = 1600
QUALITY = 82
ACCEPTED = ("JPEG", "PNG", "WEBP")
NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,40}-[0-9a-f]{12}\.jpg", re.ASCII)


_ONE_AT_A_TIME = threading.Lock()
_EXTRA = re.compile(rb"\xff[\xe1-\xef\xfe]")


class PictureError(EngineError):
    """Tell why a file is not taken as a picture."""


@dataclass(frozen=True, kw_only=True)
class Clean:
    """A picture as it is kept: a JPEG under a name that holds its own digest."""

    name: str
    data: bytes
    width: int
    height: int


def clean(data: bytes, *, file_name: str) -> Clean:
    """Return a picture re-encoded: upright, at most 1600 px, no metadata.

    What this wrote before comes back byte for byte, so that an exported plan is
    imported exactly. Raises `PictureError` for anything else than a JPEG, PNG or WebP
    picture of at most 12 MB and 24 megapixels.
    """
    if len(data) > MAX_UPLOAD_BYTES:
        raise PictureError(
            "{name}: a picture can be at most 12 MB", name=file_name[:80]
        )
    # one picture at a time: unpacked it takes far more memory than its file
    with _ONE_AT_A_TIME:
        return _clean(data, file_name)


def _clean(data: bytes, file_name: str) -> Clean:
    image = _opened(data, file_name)
    if _is_ours(image, data, file_name):
        return Clean(name=file_name, data=data, width=image.width, height=image.height)
    upright = ImageOps.exif_transpose(image).convert("RGB")
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    # a new image, so that nothing of the old file's info is written along
    bare = Image.new("RGB", upright.size)
    bare.paste(upright)
    out = io.BytesIO()
    bare.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    made = out.getvalue()
    return Clean(
        name=_named(made, file_name), data=made, width=bare.width, height=bare.height
    )


def _opened(data: bytes, file_name: str) -> Image.Image:
    try:
        with warnings.catch_warnings():
            # Pillow warns of a decompression bomb first and refuses at twice the size
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image = Image.open(io.BytesIO(data), formats=ACCEPTED)
            if image.width * image.height > MAX_PIXELS:
                raise Image.DecompressionBombError
            if image.format == "JPEG" and data.count(b"\xff\xda") > MAX_SCANS:
                raise PictureError(
                    "{name}: this JPEG is packed in more passes than a camera makes",
                    name=file_name[:80],
                )
            # a JPEG can be unpacked small at once
            image.draft("RGB", (2 * LONGEST_SIDE, 2 * LONGEST_SIDE))
            image.load()
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PictureError(
            "{name}: a picture can have at most 24 megapixels", name=file_name[:80]
        ) from error
    except (
        UnidentifiedImageError,
        OSError,
        SyntaxError,
        ValueError,
    ) as error:
        if isinstance(error, PictureError):
            raise
        raise PictureError(
            "{name}: this is not a JPEG, PNG or WebP picture that can be read",
            name=file_name[:80],
        ) from error
    return image


def _is_ours(image: Image.Image, data: bytes, file_name: str) -> bool:
    """Tell whether these bytes are what `clean` wrote under that name.

    In a JPEG's picture data no byte 0xFF is followed by a marker's, so a search finds
    any application or comment segment wherever it hides.
    Source: ITU-T T.81, Annex B.1.1.5, byte stuffing.
    """
    small = max(image.size) <= LONGEST_SIDE and image.format == "JPEG"
    named = NAME.fullmatch(file_name) and file_name[-16:-4] == _digest(data)
    whole = data.endswith(b"\xff\xd9") and data.count(b"\xff\xd9") == 1
    return bool(small and named and whole and not _EXTRA.search(data))


def _named(data: bytes, file_name: str) -> str:
    stem = file_name.rsplit(".", 1)[0].lower()
    plain = re.sub(r"-[0-9a-f]{12}$", "", re.sub(r"[^a-z0-9]+", "-", stem)).strip("-")
    return f"{plain[:40].strip('-') or 'picture'}-{_digest(data)}.jpg"


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:12]
