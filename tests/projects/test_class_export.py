"""Everything recorded about a class, as a zip."""

import csv
import io
import json
import zipfile
from datetime import UTC, datetime

import pytest
from django.db import models
from django.utils import timezone

from projects.class_export import class_zip
from projects.class_tables import TABLES
from projects.models import Membership, ShopClass
from tests.factories import MachineFactory, ShopFactory, enrol, log_stock, sign_off
from tests.projects.filled import fill, record

AT = datetime(2026, 10, 29, 23, 30, tzinfo=UTC)


@pytest.fixture
def filled(build, instructor):
    """The student's build, with a row in every table."""
    fill(build, instructor)
    return build


def unpacked(shop_class):
    with timezone.override("America/Chicago"):
        made = class_zip(shop_class, at=AT)
    with zipfile.ZipFile(io.BytesIO(made)) as found:
        return {name: found.read(name) for name in found.namelist()}


def table(files, name):
    text = io.StringIO(files[f"{name}.csv"].decode("utf-8-sig"), newline="")
    return list(csv.DictReader(text))


def hanging_on(model):
    """Return every model whose rows hang on a model's rows."""
    found = set()
    for relation in model._meta.get_fields(include_hidden=True):
        if isinstance(relation, models.ForeignObjectRel):
            child = relation.related_model
            if child is not model:
                found |= {child} | hanging_on(child)
    return found


def test_every_table_that_hangs_on_a_class_is_in_it(shop_class):
    exported = {
        rows.model
        for rows in (table.rows(shop_class) for table in TABLES)
        if isinstance(rows, models.QuerySet)
    }

    assert hanging_on(ShopClass) <= exported


def test_every_table_has_the_filled_row(shop_class, filled):
    files = unpacked(shop_class)

    assert {t.name for t in TABLES if not table(files, t.name)} == set()
    assert set(files) == {"README.txt", "class.json"} | {
        f"{t.name}.csv" for t in TABLES
    }


def test_json_and_csv_say_the_same(shop_class, filled):
    files = unpacked(shop_class)
    data = json.loads(files["class.json"])

    for name in (t.name for t in TABLES):
        rows = table(files, name)
        assert [list(row) for row in rows] == [list(row) for row in data[name]]
        assert len(rows) == len(data[name])


def test_a_reading_is_kept_as_typed_and_exact(shop_class, filled):
    first = table(unpacked(shop_class), "readings")[0]

    assert first["student"] == "Perpetua Lindqvale"
    assert first["target"] == "stock:poplar34"
    assert (first["typed"], first["unit"]) == ("0.742", "in")
    assert (first["length_mm"], first["exact_mm"]) == ("18.8468", "47117/2500")


def test_times_are_the_schools(shop_class, filled):
    shop_class.meetings.update(starts_at=AT)
    files = unpacked(shop_class)

    assert table(files, "meetings")[0]["starts_at"] == "2026-10-29T18:30:00-05:00"
    assert json.loads(files["class.json"])["made_at"] == "2026-10-29T18:30:00-05:00"
    assert b"America/Chicago" in files["README.txt"]


def test_what_could_be_a_formula_is_only_marked_in_csv(shop_class, instructor):
    build = enrol(shop_class, name='=HYPERLINK("x")')
    fill(build, instructor)
    files = unpacked(shop_class)
    data = json.loads(files["class.json"])

    assert table(files, "hands")[0]["note"] == "'@help"
    assert data["hands"][0]["note"] == "@help"
    assert table(files, "builds")[0]["student"] == '\'=HYPERLINK("x")'
    assert data["builds"][0]["student"] == '=HYPERLINK("x")'
    assert table(files, "check_answers")[0]["given"] == "'=Nobody"


def test_the_guide_explains_every_column(shop_class):
    guide = unpacked(shop_class)["README.txt"].decode()

    for t in TABLES:
        assert f"{t.name}.csv" in guide
        assert all(f"  {column.name}: {column.about}" in guide for column in t.columns)


def test_nothing_that_opens_an_account_is_in_it(shop_class, filled, instructor):
    filled.student.pin = "argon2$secret"
    filled.student.save()
    whole = b"".join(unpacked(shop_class).values()).decode()

    for person in (filled.student, instructor):
        assert person.username not in whole
        assert person.password not in whole
    assert "argon2" not in whole


def test_who_has_left_is_in_it(shop_class, filled, student):
    student.memberships.update(left_at=AT)
    files = unpacked(shop_class)
    row = next(r for r in table(files, "members") if r["role"] == "student")

    assert row["left_at"] == "2026-10-29T18:30:00-05:00"
    assert len(table(files, "sign_offs")) == 1


def test_other_shops_and_classes_stay_out(
    shop_class, filled, student, other_class, stranger
):
    elsewhere = MachineFactory.create(shop=ShopFactory.create(), name="Other saw")
    elsewhere.requirements.create(kind="sheet", title="Read it")
    record(student, elsewhere, elsewhere.shop.owner)
    sign_off(stranger, elsewhere)
    log_stock(stranger.builds.get())
    whole = b"".join(unpacked(shop_class).values()).decode()

    assert "Other saw" not in whole
    assert stranger.name not in whole


def test_it_takes_as_many_queries_for_a_big_class(
    shop_class, filled, instructor, django_assert_num_queries
):
    found = ShopClass.objects.select_related("revision__plan").get()
    with django_assert_num_queries(len(TABLES)):
        class_zip(found, at=AT)
    for _n in range(4):
        fill(enrol(shop_class), instructor)
    with django_assert_num_queries(len(TABLES)):
        class_zip(found, at=AT)
    assert Membership.objects.count() == 6
