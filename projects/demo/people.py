"""The invented staff and students, with the passwords they sign in with.

A password is three short words of the workshop, run together in lower case: quick on
a phone, and good enough for a demo that holds nothing of anybody's.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Person:
    """Hold one invented person; staff have a `pin` for signing too."""

    name: str
    username: str
    password: str
    role: str = "student"
    pin: str = ""


INSTRUCTOR = Person(
    name="Hanne Quillworth",
    username="hanne",
    password="pinesawglue",  # noqa: S106 - invented
    role="instructor",
    pin="4917",
)
SECOND_INSTRUCTOR = Person(
    name="Osric Veldane",
    username="osric",
    password="ashgluescrew",  # noqa: S106 - invented
    role="instructor",
    pin="7352",
)
ASSISTANT = Person(
    name="Bettina Harkvold",
    username="bettina",
    password="alderdowelrag",  # noqa: S106 - invented
    role="assistant",
    pin="6083",
)
STAFF = (INSTRUCTOR, SECOND_INSTRUCTOR, ASSISTANT)

_STUDENTS = (
    ("Tomas Vindelo", "tomas", "elmrulechalk"),
    ("Adaeze Okorim", "adaeze", "oakpegmark"),
    ("Leif Askenborg", "leif", "firclampdust"),
    ("Yuki Tanemora", "yuki", "teakplaneoil"),
    ("Priya Naravel", "priya", "cedarfilewax"),
    ("Rosa Calvinhal", "rosa", "limeawlbrush"),
    ("Samir Haddouran", "samir", "yewbevelcork"),
    ("Ingrid Sollmark", "ingrid", "beechvisecoat"),
    ("Kofi Mensadu", "kofi", "plumraspnail"),
    ("Olena Marchuvka", "olena", "mapleknobpin"),
    ("Jonah Brackwell", "jonah", "birchsawshim"),
    ("Mei-Lin Zhouwen", "meilin", "walnutpegcap"),
)
STUDENTS = tuple(
    Person(name=name, username=username, password=password)
    for name, username, password in _STUDENTS
)

NOT_JOINED = (("Wenzel Orrigard", "benchpeg"), ("Nadia Fosterby", "sawdust7"))
"""Who stands on the roster and has not joined, with the code of their join card."""

SHOWN = ("adaeze", "jonah")
"""Whose sign-ins the welcome prints: one has just begun, one is past the dry fit."""
