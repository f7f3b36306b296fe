"""Pictures from strangers, and a plan's zip."""

import io
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from projects import pictures, plan_zip
from projects.engine.errors import EngineError
from tests.factories import plan_bytes

PLACE = 0x8825  # the Exif tag under which a phone writes where a photo was taken
ORIENTATION = 0x0112


def picture(size=(40, 30), *, kind="JPEG", exif=None, colour=(180, 90, 20)):
    image = Image.new("RGB", size, colour)
    out = io.BytesIO()
    image.save(out, kind, **({"exif": exif} if exif else {}))
    return out.getvalue()


def zipped(files):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name, data in files.items():
            made.writestr(name, data)
    return out.getvalue()


class TestClean:
    @pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
    def test_what_phones_make_becomes_a_jpeg(self, kind):
        made = pictures.clean(picture(kind=kind), file_name="Dado Jig.HEIC.png")

        assert Image.open(io.BytesIO(made.data)).format == "JPEG"
        assert pictures.NAME.fullmatch(made.name)
        assert made.name.startswith("dado-jig-heic-")
        assert (made.width, made.height) == (40, 30)

    def test_metadata_goes_and_the_picture_stands_upright(self):
        exif = Image.Exif()
        exif[ORIENTATION] = 6
        exif.get_ifd(PLACE)[1] = "N"
        exif[0x010E] = "secret words"
        made = pictures.clean(picture(exif=exif), file_name="a.jpg")
        again = Image.open(io.BytesIO(made.data))

        assert (made.width, made.height) == (30, 40)
        assert not again.getexif()
        assert b"secret" not in made.data
        assert b"Exif" not in made.data

    def test_a_large_picture_is_made_small(self):
        made = pictures.clean(picture((4000, 1000)), file_name="a.jpg")

        assert (made.width, made.height) == (1600, 400)

    def test_what_it_wrote_comes_back_byte_for_byte(self):
        made = pictures.clean(picture(), file_name="a.jpg")

        assert pictures.clean(made.data, file_name=made.name) == made

    def test_a_right_name_with_metadata_is_cleaned_all_the_same(self):
        exif = Image.Exif()
        exif[0x010E] = "secret words"
        data = picture(exif=exif)
        name = f"a-{pictures._digest(data)}.jpg"
        made = pictures.clean(data, file_name=name)

        assert b"secret" not in made.data
        assert made.name != name

    @pytest.mark.parametrize(
        "data",
        [
            b"",
            b"GIF89a" + b"\0" * 40,
            b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>",
            picture()[:200],
            b"\xff\xd8\xff\xe0" + b"\0" * 100,
            picture(kind="BMP"),
        ],
    )
    def test_anything_else_is_refused_by_name(self, data):
        with pytest.raises(pictures.PictureError, match=r"^x\.jpg: this is not"):
            pictures.clean(data, file_name="x.jpg")

    def test_too_many_bytes_are_refused(self):
        with pytest.raises(pictures.PictureError, match="12 MB"):
            pictures.clean(b"\0" * 12_000_001, file_name="x.jpg")

    @pytest.mark.parametrize("size", [(11, 10), (20, 10), (40, 10)])
    def test_too_many_pixels_are_refused_before_they_are_unpacked(
        self, monkeypatch, size
    ):
        """A few too many, enough for the library to warn, and to refuse by itself."""
        monkeypatch.setattr(pictures, "MAX_PIXELS", 100)
        monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 150)
        with pytest.raises(pictures.PictureError, match="megapixels"):
            pictures.clean(picture(size, kind="PNG"), file_name="x.png")

    @settings(max_examples=60, deadline=None)
    @given(st.binary(max_size=300), st.text(max_size=60))
    def test_no_file_does_anything_but_be_refused(self, data, name):
        with pytest.raises(pictures.PictureError):
            pictures.clean(b"\xff\xd8" + data, file_name=name)


class TestZip:
    def test_out_and_in_again_is_exact(self):
        one = pictures.clean(picture(), file_name="dado.png")
        two = pictures.clean(picture(colour=(1, 2, 3)), file_name="rail.png")
        packed = plan_zip.pack(plan_bytes(), {two.name: two.data, one.name: one.data})
        back = plan_zip.unpack(packed)

        assert back.plan == plan_bytes()
        assert set(back.pictures) == {one, two}
        assert plan_zip.is_zip(packed)

    def test_one_plan_always_makes_the_same_file(self):
        one = pictures.clean(picture(), file_name="dado.png")

        assert plan_zip.pack(b"{}", {one.name: one.data}) == plan_zip.pack(
            b"{}", {one.name: one.data}
        )

    @pytest.mark.parametrize(
        ("files", "why"),
        [
            ({"other.json": b"{}"}, "no plan.json"),
            ({"plan.json": b"{}", "../up.jpg": picture()}, "pictures/ only"),
            ({"plan.json": b"{}", "pictures/a/b.jpg": picture()}, "pictures/ only"),
            ({"plan.json": b"{}", "pictures/a.jpg": b"no"}, "is not a JPEG"),
            ({"plan.json": b"{}", "run.sh": b"rm"}, "pictures/ only"),
            ({f"pictures/{n}.jpg": b"" for n in range(211)}, "at most 210 files"),
        ],
    )
    def test_what_does_not_belong_is_refused(self, files, why):
        with pytest.raises(EngineError, match=why):
            plan_zip.unpack(zipped(files))

    def test_a_file_that_says_it_is_huge_is_refused(self):
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
            made.writestr("plan.json", b" " * 101_000_000)

        with pytest.raises(plan_zip.ZipError, match="100 MB"):
            plan_zip.unpack(out.getvalue())

    @settings(max_examples=60, deadline=None)
    @given(st.binary(max_size=400))
    def test_no_file_does_anything_but_be_refused(self, data):
        with pytest.raises(EngineError):
            plan_zip.unpack(b"PK\x03\x04" + data)
