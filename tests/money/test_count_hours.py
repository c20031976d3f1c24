"""Hours from the starter rates. Totals per section and ramp are common practice, no source; sums are by hand."""

from dataclasses import replace
from decimal import Decimal

import pytest

from estimating.engine.catalogue_file import starter_catalogue
from estimating.engine.labour import labour
from estimating.engine.parts import LabourRate
from estimating.engine.reasons import SpecFaults
from estimating.engine.result import Design, RampDesign
from estimating.engine.spec import Place, Work

from .designs import WHY, accessories, anchors, bare_design, floats, spec, weight, with_parts
from .test_count_packs import CORNERS, TEES

D = Decimal
CATALOGUE, RULES = starter_catalogue()
AT_HOME = Place(bottom="sand", one_way_miles=0)


def six_by_sixteen(*, place: Place = AT_HOME, work: Work | None = None, **parts: object) -> Design:
    return with_parts(
        bare_design(spec(place=place, work=work)),
        **{
            "joints": (*CORNERS, *TEES),
            "floats": floats(6),
            "weights": (weight(900.0),),
            "deck_area_sqft": 96.0,
            **parts,
        },
    )


def stage_hours(design: Design) -> dict[str, Decimal]:
    return {stage: hours for stage, hours in labour(design, CATALOGUE, RULES).stage_hours if hours}


def ramp(length_in: float, bought: str | None = None) -> RampDesign:
    return RampDesign(length_in, 48.0, "A", "shore", 0, 36, -length_in, 36, 200, 150, bought, 100, WHY)


def test_framing_a_6_by_16_section_with_48_bolts_takes_six_and_a_half_hours():
    assert stage_hours(six_by_sixteen())["framing"] == D("6.50")


def test_a_plain_section_takes_these_hours_by_stage():
    assert stage_hours(six_by_sixteen(anchors=anchors(4))) == {
        "layout": D("1.50"),
        "framing": D("6.50"),
        "flotation": D("1.80"),  # 6 x 0.3
        "launch": D("2.00"),
        "decking": D("6.24"),  # 96 x 0.065
        "anchoring": D("8.00"),
        "handover": D("2.50"),  # 1.5, and two days' key-in for 27.54 h by two people
    }


def test_hours_are_rounded_up_to_the_step_of_the_firm():
    worked = labour(six_by_sixteen(anchors=anchors(4)), CATALOGUE, RULES)
    assert (worked.net_hours, worked.hours) == (D("28.54"), D("28.75"))


def test_a_four_by_four_ramp_takes_three_hours_and_a_longer_one_more_by_the_foot():
    plain = stage_hours(six_by_sixteen())["framing"]
    assert stage_hours(six_by_sixteen(ramp=ramp(48.0)))["framing"] - plain == D("3.00")
    assert stage_hours(six_by_sixteen(ramp=ramp(144.0)))["framing"] - plain == D("5.80")  # 3 + 8 x 0.35


def test_a_bought_ramp_is_only_hinged():
    plain = stage_hours(six_by_sixteen())["framing"]
    assert stage_hours(six_by_sixteen(ramp=ramp(192.0, "ramp-4x16")))["framing"] - plain == D("2.00")


@pytest.mark.parametrize(("wet_lb", "hours"), [(900.0, "2.00"), (1000.0, "2.00"), (2500.0, "3.50"), (5000.0, "6.00")])
def test_a_launch_takes_two_hours_and_one_more_for_each_further_thousand_pounds(wet_lb, hours):
    assert stage_hours(six_by_sixteen(weights=(weight(wet_lb),)))["launch"] == D(hours)


def test_launch_hours_on_the_spec_are_taken_as_they_are():
    cold_island = replace(AT_HOME, island=True, water_temp_f=40.0)
    design = six_by_sixteen(place=cold_island, work=Work(launch_hours=D("4.5")), weights=(weight(5000.0),))
    assert stage_hours(design)["launch"] == D("4.50")


def test_an_island_and_a_long_carry_weigh_on_every_stage():
    hard = stage_hours(six_by_sixteen(place=replace(AT_HOME, island=True, carry_in=1201.0)))
    assert hard["layout"] == D("2.34")  # 1.5 x 1.3 x 1.2
    assert hard["decking"] == D("9.73")  # 6.24 x 1.56 = 9.7344


def test_a_carry_of_exactly_100_ft_is_not_over_it():
    assert stage_hours(six_by_sixteen(place=replace(AT_HOME, carry_in=1200.0)))["layout"] == D("1.50")


def test_cold_water_weighs_on_work_in_the_water_only():
    cold = stage_hours(six_by_sixteen(place=replace(AT_HOME, water_temp_f=49.9), anchors=anchors(2)))
    assert (cold["launch"], cold["anchoring"], cold["layout"]) == (D("2.30"), D("4.60"), D("1.50"))
    mild = stage_hours(six_by_sixteen(place=replace(AT_HOME, water_temp_f=50.0), anchors=anchors(2)))
    assert mild["anchoring"] == D("4.00")


def test_accessories_take_their_own_hours_to_fit():
    plain = stage_hours(six_by_sixteen())["decking"]
    assert stage_hours(six_by_sixteen(accessories=accessories("cleat", 4)))["decking"] - plain == D("1.00")


def test_the_road_is_counted_for_everyone_on_every_trip():
    # 30 miles out and back is 1.5 h; two people, two trips
    design = six_by_sixteen(place=replace(AT_HOME, one_way_miles=30.0), work=Work(trips=2))
    assert labour(design, CATALOGUE, RULES).travel_hours == D("6.00")


def test_trips_left_open_are_one_for_each_day():
    # 20.54 h by two people at 7.5 h is two days
    design = six_by_sixteen(place=replace(AT_HOME, one_way_miles=20.0))
    assert labour(design, CATALOGUE, RULES).travel_hours == D("4.00")


def test_travel_hours_on_the_spec_are_taken_as_they_are():
    design = six_by_sixteen(place=replace(AT_HOME, one_way_miles=30.0), work=Work(travel_hours=D("6")))
    assert labour(design, CATALOGUE, RULES).travel_hours == D("6")


def test_a_crew_of_one_takes_a_second_along_to_set_anchors():
    place = replace(AT_HOME, one_way_miles=20.0)
    alone = six_by_sixteen(place=place, work=Work(crew_size=1, trips=3))
    on_water = six_by_sixteen(place=place, work=Work(crew_size=1, trips=3), anchors=anchors(2))
    assert labour(alone, CATALOGUE, RULES).travel_hours == D("3.00")
    assert labour(on_water, CATALOGUE, RULES).travel_hours == D("4.00")


def test_every_line_says_why_and_its_steps_end_in_its_hours():
    for line in labour(six_by_sixteen(ramp=ramp(144.0), anchors=anchors(2)), CATALOGUE, RULES).lines:
        assert str(line.reason.rule)
        assert line.reason.steps[-1].amount.value == line.hours


def test_a_rate_nothing_is_counted_for_is_refused_at_its_place():
    odd = LabourRate("painting", "decking", "Paint", D(1), "sq ft")
    with pytest.raises(SpecFaults, match=r"rules.labour_rates\[14\].code"):
        labour(six_by_sixteen(), CATALOGUE, replace(RULES, labour_rates=(*RULES.labour_rates, odd)))
