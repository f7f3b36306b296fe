"""How far shelves sag, by hand, in pounds and inches.

Northern red oak: 12 500 MPa. A shelf 11 1/4 × 3/4 in has an inertia of 11.25 × 0.75³ /
12 = 0.39551 in⁴. Under 30 lb a foot it sags 5 × 2.5 × L⁴ / (384 E I) in, L in inches.
"""

from fractions import Fraction

import pytest

from projects.engine.checks import Limit, ShopLimits
from tests.engine.builds import data, distance, joint, part, size, solved
from tests.engine.checks.pieces import PLY, POPLAR, amounts, case, flush, found, made

PSI_PER_MPA = 145.0377377
E_PSI = 12_500 * PSI_PER_MPA
INERTIA = 11.25 * 0.75**3 / 12
OAK = "northern red oak"
RAIL = {
    "parts": [part("rail", "xzy")],
    "joints": [joint("under", "butt", "rail.top", "shelf.bottom")],
    "distances": [distance("rail_wide", "rail.bottom", "rail.top", "2")],
    "flush": [["rail.left", "left.right"], ["rail.right", "right.left"],
              ["rail.front", "shelf.front"]],
}  # fmt: skip
METRIC = solved(
    data(
        [part("left", "zyx"), part("right", "zyx"), part("shelf", "xyz")],
        units="mm",
        joints=[joint("a", "dado", "shelf.left", "left.right", depth=6),
                joint("b", "dado", "shelf.right", "right.left", depth=6)],
        distances=[distance("opening", "left.right", "right.left", 1000),
                   size("left", "length", "zyx", 800),
                   size("left", "width", "zyx", 250)],
        flush=[*flush("left", "right", "y", "z"), *flush("left", "shelf", "y")],
        stock=[POPLAR | {"species": "eastern white pine", "thickness": 18}, PLY],
    )
)  # fmt: skip


def oak(span="36", *, species=OAK, more=None, **others):
    """Return a shelf of oak 11 1/4 in wide, 3/8 in deep in two sides."""
    more = {"species": species, **(more or {})}
    return case(span=span, width="11 1/4", more=more, **others)


def sags(span, inertia=INERTIA):
    return 5 * 2.5 * span**4 / (384 * E_PSI * inertia)


def upright(name="leg", *, bottom):
    """Return an upright below the middle of the shelf, down to `bottom`."""
    return {
        "parts": [part(name, "zyx")],
        "joints": [joint("on_leg", "butt", f"{name}.top", "shelf.bottom")],
        "distances": [
            distance("leg_place", "left.right", f"{name}.left", "20"),
            distance("leg_end", "left.bottom", f"{name}.bottom", bottom)
            if bottom
            else size(name, "length", "zyx", "6"),
        ],
        "flush": [*flush("left", name, "y"),
                  *([] if bottom else [["left.bottom", f"{name}.bottom"]])],
    }  # fmt: skip


class TestSag:
    def test_a_yard_of_oak_sags_too_far(self):
        """0.0763 in over 36 in; 36 / 600 = 0.06 in is allowed."""
        (finding,) = found(oak(), "shelf_sag")
        numbers = amounts(finding)

        assert finding.key == "shelf_sag/part:shelf"
        assert finding.level == "warning"
        assert numbers["span"] == 36
        assert numbers["allowed"] == Fraction(6, 100)
        assert float(numbers["sag, ends resting freely"]) == pytest.approx(sags(36))
        assert sags(36) == pytest.approx(0.0763, abs=0.0001)
        assert str(finding.what) == (
            "Shelf sags about 0.076 in over 36 in under 30 lb/ft, more than 0.060 in"
        )

    def test_rigid_ends_would_make_it_a_fifth(self):
        numbers = amounts(found(oak(), "shelf_sag")[0])

        assert (
            numbers["sag, ends held rigidly"] * 5
            == (numbers["sag, ends resting freely"])
        )

    @pytest.mark.parametrize(("span", "count"), [("33 1/8", 0), ("33 3/8", 1)])
    def test_the_limit(self, span, count):
        """33 1/8 in sags 0.0547 of 0.0552 in allowed; 33 3/8 in 0.0563 of 0.0556."""
        assert len(found(oak(span), "shelf_sag")) == count

    def test_it_does_not_matter_how_the_ends_are_joined(self):
        """The clear opening counts, be the shelf let in or butted."""
        let_in, butted = (
            amounts(found(of, "shelf_sag")[0]) for of in (oak(), oak(kind="butt"))
        )

        assert let_in == butted

    def test_a_third_of_the_load_is_borne(self):
        """10 lb a foot: 0.0254 in."""
        usual = ShopLimits().shelf_load_n_per_mm.value
        shop = ShopLimits(shelf_load_n_per_mm=Limit(value=usual / 3))

        assert not found(oak(), "shelf_sag", shop)

    def test_a_shop_may_allow_more(self):
        """A 360th of 36 in is 0.1 in."""
        shop = ShopLimits(sag_share=Limit(value=Fraction(1, 360)))

        assert not found(oak(), "shelf_sag", shop)

    def test_metric_plans_say_kilograms(self):
        """1 m of eastern white pine, 250 × 18 mm, under 44.6 kg a metre.

        437.8 N/m: 5 × 437.8 × 1000³ / (384 × 8500 × 250 × 18³ / 12) = 5.52 mm.
        """
        (finding,) = found(METRIC, "shelf_sag")

        assert str(finding.what) == (
            "Shelf sags about 5.52 mm over 1000 mm under 44.6 kg/m, more than 1.67 mm"
        )


class TestHelp:
    def test_a_rail_along_it(self):
        """2 × 3/4 in on edge: 0.75 × 2³ / 12 = 0.5 in⁴ more: 0.0337 in."""
        assert not found(oak(more=RAIL), "shelf_sag")

    def test_a_rail_shares_the_load(self):
        """At 45 in: 5 × 2.5 × 45⁴ / (384 E (0.39551 + 0.5)) = 0.0822 of 0.075 in."""
        (finding,) = found(oak("45", more=RAIL), "shelf_sag")
        sag = amounts(finding)["sag, ends resting freely"]

        assert float(sag) == pytest.approx(sags(45, INERTIA + 0.5))
        assert [str(w) for w in finding.where] == ["part:shelf", "part:rail"]

    def test_a_rail_of_plywood_cannot_be_told(self):
        more = RAIL | {"parts": [part("rail", "xzy", stock="ply")]}
        (finding,) = found(oak(more=more), "shelf_sag")

        assert finding.level == "unknown"
        assert str(finding.what).endswith("nothing here says how stiff Rail is")

    def test_a_leg_below_it_halves_the_span(self):
        """A leg 20 to 20 3/4 in from the left of 36: the longer bay is 20 in."""
        assert not found(oak(more=upright(bottom=None)), "shelf_sag")

    def test_the_longer_bay_counts(self):
        """Of 60 in: 60 − 20.75 = 39.25 in."""
        (finding,) = found(oak("60", more=upright(bottom=None)), "shelf_sag")

        assert amounts(finding)["span"] == Fraction("39.25")

    def test_a_panel_below_it_from_end_to_end(self):
        """It stands on the floor and fills the opening: nothing is left to span."""
        more = {
            "parts": [part("panel", "zxy")],
            "joints": [joint("on_panel", "butt", "panel.top", "shelf.bottom")],
            "flush": [["panel.left", "left.right"], ["panel.right", "right.left"],
                      ["panel.bottom", "left.bottom"]],
        }  # fmt: skip

        assert not found(oak(more=more), "shelf_sag")

    def test_an_upright_that_hangs_is_no_leg(self):
        """It ends 2 in above the floor."""
        assert len(found(oak(more=upright(bottom="2")), "shelf_sag")) == 1

    def test_an_upright_that_nothing_places_is_not_counted(self):
        more = upright(bottom=None)
        more["distances"] = more["distances"][1:]

        assert len(found(oak(more=more), "shelf_sag")) == 1


class TestUnknown:
    def test_an_unknown_wood_over_a_yard(self):
        (finding,) = found(oak(species="oak"), "shelf_sag")

        assert finding.level == "unknown"
        assert str(finding.what) == (
            "Shelf: how far it sags over 36 in can't be told, for nothing here says "
            "how stiff Shelf is"
        )

    def test_an_unknown_wood_that_would_hold_whatever_it_is(self):
        """Redwood, 7600 MPa, bends most: over 24 in 0.0248 of 0.04 in."""
        assert not found(oak("24", species="oak"), "shelf_sag")

    def test_plywood(self):
        shelf = part("shelf", "xyz", stock="ply")
        (finding,) = found(oak("24", shelf=shelf), "shelf_sag")

        assert finding.level == "unknown"

    def test_plywood_on_a_rail_that_holds_it_alone(self):
        """0.5 in⁴ of oak over 30 in: 0.0291 of 0.05 in."""
        shelf = part("shelf", "xyz", stock="ply")

        assert not found(oak("30", shelf=shelf, more=RAIL), "shelf_sag")

    def test_a_name_for_several_woods_says_so(self):
        (finding,) = found(oak(species="red oak"), "shelf_sag")

        assert "a group of species" in finding.source


class TestNoShelf:
    def test_a_board_on_edge(self):
        of = made(
            [part("left", "zyx"), part("right", "zyx"), part("rail", "xzy")],
            joints=[joint("a", "butt", "rail.left", "left.right"),
                    joint("b", "butt", "rail.right", "right.left")],
            distances=[size("rail", "length", "xzy", "60"),
                       size("rail", "width", "xzy", "1"),
                       size("left", "length", "zyx", "20"),
                       size("left", "width", "zyx", "6")],
            flush=flush("left", "right", "y", "z"),
        )  # fmt: skip

        assert not found(of, "shelf_sag")

    def test_grain_from_front_to_back(self):
        assert not found(oak(shelf=part("shelf", "yxz")), "shelf_sag")

    def test_one_end_only(self):
        of = made(
            [part("post", "zyx"), part("arm", "xyz")],
            joints=[joint("j", "dado", "arm.left", "post.right", depth="3/8")],
            distances=[size("arm", "length", "xyz", "60"),
                       size("post", "length", "zyx", "20"),
                       size("post", "width", "zyx", "6")],
            flush=flush("post", "arm", "y"),
        )  # fmt: skip

        assert not found(of, "shelf_sag")

    def test_a_bottom_in_grooves_all_round(self):
        """Held along its long edges too, it is no beam between its ends."""
        walls = {
            "parts": [part("front", "xzy"), part("back", "xzy")],
            "joints": [
                joint("in_front", "groove", "shelf.front", "front.back", depth="1/4"),
                joint("in_back", "groove", "shelf.back", "back.front", depth="1/4"),
            ],
            "distances": [
                distance(f"{wall}_{d}", f"{wall}.{low}", f"{wall}.{high}", value)
                for wall in ("front", "back")
                for d, low, high, value in (("long", "left", "right", "36"),
                                            ("high", "bottom", "top", "8"))
            ],
        }  # fmt: skip

        assert len(found(oak(), "shelf_sag")) == 1
        assert not found(oak(more=walls), "shelf_sag")
