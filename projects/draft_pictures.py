"""Pictures of a draft's steps: sent with a form, or with a plan file in a zip."""

from __future__ import annotations

from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.http import QueryDict
from django.utils.datastructures import MultiValueDict

from projects import actions, drafting
from projects.draft_forms import FormError
from projects.models import Draft, User
from projects.pictures import MAX_UPLOAD_BYTES, PictureError, clean
from projects.plan_zip import is_zip, unpack
from projects.words import lines


def with_picture(
    draft: Draft,
    by: User,
    data: QueryDict,
    files: MultiValueDict[str, UploadedFile[Any]],
) -> QueryDict:
    """Return what a step's form says, with the name of the picture sent along.

    The picture is kept at once, so that a form that is refused still has it. Raises
    `FormError` for a file that is no picture.
    """
    file = files.get("picture_file")
    if file is None or not data.get("entry", "").startswith("steps:"):
        return data
    try:
        picture = clean(file.read(MAX_UPLOAD_BYTES + 1), file_name=file.name or "")
    except PictureError as error:
        raise FormError({"picture": " ".join(lines(error))}) from error
    actions.add_picture(draft.plan, picture, by=by)
    sent = data.copy()
    sent["picture"] = picture.name
    return sent


def bring_in_file(draft: Draft, by: User, data: bytes) -> None:
    """Put a plan file, or a zip of one with its pictures, in the draft's place.

    Raises `EngineError` telling all that is wrong with the file; nothing is kept then.
    """
    if not is_zip(data):
        drafting.bring_in(draft, by, data=data)
        return
    packed = unpack(data)
    with transaction.atomic():
        drafting.bring_in(draft, by, data=packed.plan)
        for picture in packed.pictures:
            actions.add_picture(draft.plan, picture, by=by)
