"""Pictures from strangers: checked by content, made small, without metadata."""

from __future__ import annotations

import hashlib
import io
import re
import warnings
from dataclasses import dataclass

from PIL import Image, ImageOps, UnidentifiedImageError

from projects.engine.errors import EngineError

MAX_UPLOAD_BYTES = 12_000_000
MAX_PIXELS = 50_000_000
LONGEST_SIDE = 1600
QUALITY = 82
ACCEPTED = ("JPEG", "PNG", "WEBP")
NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,40}-[0-9a-f]{12}\.jpg", re.ASCII)


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
    picture of at most 12 MB and 50 megapixels.
    """
    if len(data) > MAX_UPLOAD_BYTES:
        raise PictureError(
            "{name}: a picture can be at most 12 MB", name=file_name[:80]
        )
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
                raise PictureError(
                    "{name}: a picture can have at most 50 megapixels",
                    name=file_name[:80],
                )
            image.load()
    except (
        UnidentifiedImageError,
        Image.DecompressionBombError,
        Image.DecompressionBombWarning,
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
    """Tell whether these bytes are what `clean` wrote under that name."""
    small = max(image.size) <= LONGEST_SIDE and image.format == "JPEG"
    named = NAME.fullmatch(file_name) and file_name[-16:-4] == _digest(data)
    bare = not image.getexif() and not _has_extra_segments(data)
    return bool(small and named and bare)


def _has_extra_segments(data: bytes) -> bool:
    """Tell whether a JPEG has application or comment segments beyond JFIF.

    Source: ITU-T T.81, Annex B.2, for markers and segment lengths.
    """
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xDA:  # start of scan: only picture data follows
            return False
        if 0xE1 <= marker <= 0xEF or marker == 0xFE:
            return True
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
    return True


def _named(data: bytes, file_name: str) -> str:
    stem = file_name.rsplit(".", 1)[0].lower()
    plain = re.sub(r"-[0-9a-f]{12}$", "", re.sub(r"[^a-z0-9]+", "-", stem)).strip("-")
    return f"{plain[:40].strip('-') or 'picture'}-{_digest(data)}.jpg"


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:12]
