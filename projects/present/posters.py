"""A machine's poster: what hangs beside it, in words as large as the page allows."""

from __future__ import annotations

import base64
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext

from projects.engine.shop.cautions import CAUTIONS, FIRST, Caution
from projects.engine.shop.equipment import DUSTY
from projects.engine.shop.machines import MACHINES
from projects.models import Machine, MachinePhoto
from projects.present.equipment import typed_limits
from projects.present.poster_type import name_pt, text_pt

WEAR = "eyes"
DUST = "dust"
FOOT_WORDS = 80
"""How many letters the foot has beside the sources: how many people, the date."""


@dataclass(frozen=True, kw_only=True)
class Poster:
    """What stands on one machine's poster, and the sizes of its type in points."""

    machine: Machine
    kind: str
    first: str
    wear: tuple[str, ...]
    mind: tuple[str, ...]
    limits: tuple[tuple[str, str], ...]
    sources: tuple[str, ...]
    photo: str
    name_pt: int
    text_pt: int


def posters(machines: Iterable[Machine]) -> list[Poster]:
    """Return a poster for each machine, with its photo; costs one query."""
    listed = list(machines)
    photos = {
        photo.machine_id: bytes(photo.data)
        for photo in MachinePhoto.objects.filter(machine__in=listed)
    }
    return [_poster(machine, photos.get(machine.pk)) for machine in listed]


def _poster(machine: Machine, photo: bytes | None) -> Poster:
    kind = MACHINES[machine.kind]
    name = gettext(kind.name)
    worn = [CAUTIONS[key] for key in (WEAR, DUST)[: 1 + (kind.key in DUSTY)]]
    about = [CAUTIONS[key] for key in kind.cautions if key != DUST]
    first = gettext(FIRST.text)
    wear = tuple(gettext(caution.text) for caution in worn)
    mind = (*_sentences(about, name), *machine.cautions.splitlines())
    limits = tuple(typed_limits(machine))
    sources = tuple(dict.fromkeys(one.source for one in (*worn, *about)))
    return Poster(
        machine=machine,
        kind=name,
        first=first,
        wear=wear,
        mind=mind,
        limits=limits,
        sources=sources,
        photo=_data_url(photo) if photo else "",
        name_pt=name_pt(machine.name),
        text_pt=text_pt(
            machine.name,
            (first, *wear, *mind),
            limits,
            foot_letters=sum(map(len, sources)) + FOOT_WORDS,
            has_photo=photo is not None,
        ),
    )


def _sentences(cautions: Iterable[Caution], kind: str) -> list[str]:
    """Return cautions a sentence each; the machine's name stands above already."""
    texts = [gettext(one.text).removeprefix(f"{kind}: ") for one in cautions]
    ends = [text.replace(". ", ".\n").splitlines() for text in texts]
    return [line[:1].upper() + line[1:] for lines in ends for line in lines]


def _data_url(photo: bytes) -> str:
    return f"data:image/jpeg;base64,{base64.b64encode(photo).decode()}"
