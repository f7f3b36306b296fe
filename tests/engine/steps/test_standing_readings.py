"""What a step waits for: readings, dry fits, and readings in doubt."""

from tests.engine.steps.plans import case
from tests.engine.steps.standings import MEASURED, blocks, stand, step


class TestReadings:
    def test_stock_to_be_measured_first_blocks_until_it_is(self):
        rip = step("rip", "shelf", measured_first=("stock:board",))

        assert blocks(stand(rip, readings={})["rip"]) == [("reading", ("stock:board",))]
        assert stand(rip)["rip"].can_be_ticked

    def test_a_reading_of_every_part_of_a_stock_is_one_of_the_stock(self):
        rip = step("rip", "shelf", measured_first=("stock:board",))
        parts = {part.key: {"thickness": ["0.74"]} for part in case().parts}
        some = dict(list(parts.items())[1:])

        assert stand(rip, readings={"parts": parts})["rip"].can_be_ticked
        assert not stand(rip, readings={"parts": some})["rip"].is_open

    def test_what_a_step_measures_itself_keeps_it_from_being_ticked_alone(self):
        found = stand(step("log", measures=("stock:board",)), readings={})["log"]

        assert found.is_open
        assert found.to_log == ("stock:board",)
        assert not found.can_be_ticked

    def test_a_distance_to_be_measured_first_is_a_dry_fit(self):
        fit = step("fit", "rail", measured_first=("opening",), stage="fitted")

        assert blocks(stand(fit)["fit"]) == [("dry_fit", ("opening",))]


class TestDryFits:
    def test_a_part_whose_size_waits_blocks_though_the_step_does_not_say_so(self):
        found = stand(step("rip", "rail", stage="fitted"), step("sand", "shelf"))

        assert blocks(found["rip"]) == [("dry_fit", ("opening",))]
        assert found["sand"].is_open

    def test_once_measured_it_is_open(self):
        readings = MEASURED | {"distances": {"opening": "34 1/2"}}
        found = stand(step("rip", "rail", stage="fitted"), readings=readings)

        assert found["rip"].can_be_ticked

    def test_the_step_that_measures_it_does_not_wait_for_it(self):
        fit = step("fit", "rail", "shelf", stage="dry_fit", measures=("opening",))

        assert stand(fit)["fit"].is_open
        assert stand(fit)["fit"].to_log == ("opening",)

    def test_a_dry_fit_that_names_nothing_measures_what_no_other_step_does(self):
        found = stand(step("fit", "shelf", stage="dry_fit"))["fit"]

        assert found.to_log == ("opening",)
        assert found.is_open

    def test_a_part_may_be_cut_roughly_before_but_not_to_its_size(self):
        found = stand(
            step("rough", "rail", machine="hand_tools"),
            step("fit", "shelf", stage="dry_fit", measures=("opening",)),
            step("rip", "rail", stage="fitted", machine="hand_tools"),
        )

        assert found["rough"].is_open
        assert blocks(found["rip"]) == [
            ("step", ("rough",)),
            ("dry_fit", ("opening",)),
        ]

    def test_cut_to_size_before_the_dry_fit_it_is_blocked(self):
        found = stand(
            step("rip", "rail", machine="hand_tools"),
            step("fit", "shelf", stage="dry_fit", measures=("opening",)),
        )

        assert blocks(found["rip"]) == [("dry_fit", ("opening",))]


class TestDoubts:
    # 36 overall less two sides of 0.742 leaves 34.516: the shelf between says more
    WRONG = MEASURED | {
        "distances": {"opening": "34 1/2"},
        "cut": {"shelf.length": "35 3/4"},
    }

    def test_a_part_cut_at_what_cannot_be_blocks_its_steps(self):
        found = stand(step("sand", "shelf"), readings=self.WRONG)["sand"]

        assert blocks(found) == [("doubt", ("shelf.length",))]

    def test_what_rests_on_the_reading_it_disagrees_with_is_in_doubt_too(self):
        # the newest is believed, but either may be the one misread
        rip = step("rip", "rail", stage="fitted", measured_first=("opening",))
        found = stand(rip, readings=self.WRONG)["rip"]

        assert blocks(found) == [("doubt", ("shelf.length",))]

    def test_other_parts_go_on(self):
        assert stand(step("rip", "left_side"), readings=self.WRONG)["rip"].is_open

    def test_the_loudest_comes_first(self):
        steps = (step("rough"), step("sand", "shelf", machine="sander"))
        found = stand(*steps, readings=self.WRONG, signed=())["sand"]

        assert [kind for kind, _ in blocks(found)] == ["doubt", "step", "sign_off"]

    def test_a_difference_of_a_tape_mark_is_none(self):
        near = self.WRONG | {"cut": {"shelf.length": "35 1/4"}}

        assert stand(step("sand", "shelf"), readings=near)["sand"].is_open
