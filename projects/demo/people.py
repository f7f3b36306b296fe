"""The invented instructor and students, with the passwords they sign in with.

A password is three short words of the workshop, run together in lower case: quick on
a phone, and good enough for a demo that holds nothing of anybody's.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Person:
    """Hold one invented person."""

    name: str
    username: str
    password: str
    role: str = "student"


INSTRUCTOR = Person(
    name="Hanne Quillworth",
    username="hanne",
    password="pinesawglue",  # noqa: S106 - invented
    role="instructor",
)

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

SHOWN = ("adaeze", "jonah")
"""Whose sign-ins the welcome prints: one has just begun, one is past the dry fit."""
