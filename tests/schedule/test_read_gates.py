"""Each gate by itself, and that the latest governs in words."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.schedule.gates import (
    STAGE_NAMES,
    CancellationRule,
    DepositFacts,
    HoldFacts,
    IceFacts,
    LevelFacts,
    MaterialsFacts,
    PermitFacts,
    PreviousFacts,
    StageFacts,
    WorkDays,
    YearRange,
    allows_day,
    order_of,
    read_gates,
)

TODAY = date(2026, 5, 4)  # a Monday
SIGNED = date(2026, 4, 16)
FREE = StageFacts(stage="anchoring", today=TODAY, signed_on=SIGNED)


def reading(**facts):
    return read_gates(replace(FREE, **facts))


def permit(**facts) -> tuple[PermitFacts, ...]:
    return (PermitFacts("the town", **facts),)


def test_it_starts_today_when_nothing_is_in_the_way():
    gates = reading()
    assert (gates.earliest, gates.kind, gates.certain) == (TODAY, "today", True)


def test_it_waits_for_a_signature():
    gates = reading(signed_on=None)
    assert (gates.earliest, gates.kind) == (None, "signature")


def test_it_starts_the_day_after_the_time_to_cancel():
    signed = date(2026, 5, 1)  # a Friday: Saturday, Monday, Tuesday
    gates = reading(signed_on=signed, cancellation=CancellationRule(3))
    assert (gates.earliest, gates.kind) == (date(2026, 5, 6), "cancellation")
    assert "2026-05-05" in gates.governor
    waived = reading(signed_on=signed, cancellation=CancellationRule(3), waived=frozenset({"cancellation"}))
    assert waived.earliest == TODAY


@pytest.mark.parametrize(("cleared", "earliest"), [("1499.99", None), ("1500", TODAY)])
def test_it_waits_for_the_whole_deposit_to_the_cent(cleared, earliest):
    deposit = DepositFacts(Decimal(1500), Decimal(cleared), SIGNED if earliest else None)
    assert reading(deposit=deposit).earliest == earliest


def test_it_names_what_is_still_owed_of_the_deposit():
    assert "1,000.50" in reading(deposit=DepositFacts(Decimal("1500.50"), Decimal(500))).governor
    assert reading(deposit=DepositFacts(Decimal(1)), waived=frozenset({"deposit"})).earliest == TODAY


@pytest.mark.parametrize(
    ("facts", "earliest"),
    [
        ({"needed": False}, TODAY),
        ({}, None),
        ({"applied_on": SIGNED}, None),
        ({"applied_on": SIGNED, "expected_on": date(2026, 5, 12)}, date(2026, 5, 12)),
        ({"applied_on": SIGNED, "expected_on": date(2026, 5, 1)}, None),
        ({"issued_on": SIGNED}, TODAY),
        ({"issued_on": SIGNED, "starts_on": date(2026, 5, 20)}, date(2026, 5, 20)),
        ({"issued_on": SIGNED, "expires_on": date(2026, 5, 3)}, None),
        ({"issued_on": SIGNED, "expires_on": TODAY}, TODAY),
    ],
)
def test_it_waits_for_the_permit(facts, earliest):
    assert reading(permits=permit(**facts)).earliest == earliest


def test_it_takes_an_unknown_permit_for_unknown_not_for_none():
    gates = reading(permits=None)
    assert (gates.earliest, gates.kind) == (None, "permit")


def test_it_builds_in_the_yard_before_the_permit():
    for stage in ("layout", "framing"):
        assert reading(stage=stage, permits=permit()).earliest == TODAY
        assert reading(stage=stage, permits=permit(), built_in_yard=False).earliest is None
    assert reading(stage="flotation", permits=permit()).earliest is None


def test_it_does_not_start_what_the_permit_outlives():
    ends = permit(issued_on=SIGNED, expires_on=date(2026, 5, 6))
    assert reading(permits=ends, days=3).earliest == TODAY
    gates = reading(permits=ends, days=4)
    assert (gates.earliest, gates.kind) == (None, "permit")


def test_it_waits_for_the_work_window_over_new_year():
    winter = (YearRange(True, (11, 15), (3, 31), "the site"),)
    assert reading(windows=winter).earliest == date(2026, 11, 16)  # 15 November 2026 is a Sunday
    assert reading(windows=winter).kind == "window"
    december = replace(FREE, today=date(2026, 12, 30), windows=winter)
    assert read_gates(december).earliest == date(2026, 12, 30)
    barred = (YearRange(False, (12, 20), (1, 10), "the site"),)
    assert read_gates(replace(december, windows=barred)).earliest == date(2027, 1, 11)


def test_it_keeps_all_days_of_the_work_inside_the_window():
    spring = (YearRange(True, (5, 1), (5, 6), "the site"),)
    assert reading(windows=spring, days=3).earliest == TODAY
    assert reading(windows=spring, days=4).earliest == date(2027, 5, 3)


def test_it_leaves_windows_and_ice_to_work_in_the_water():
    shut = {"windows": (YearRange(False, (1, 1), (12, 30), "the site"),)}
    assert reading(stage="flotation", **shut).earliest == TODAY
    assert reading(stage="decking", launch_first=False, **shut).earliest == TODAY
    assert reading(stage="decking", launch_first=True, **shut).earliest != TODAY


def test_it_waits_for_the_ice():
    ice = (IceFacts(date(2026, 5, 11), date(2026, 11, 24)), IceFacts(date(2027, 5, 10), date(2027, 11, 24)))
    gates = reading(ice=ice)
    assert (gates.earliest, gates.kind) == (date(2026, 5, 11), "ice")
    assert not gates.certain
    autumn = read_gates(replace(FREE, today=date(2026, 11, 23), ice=ice, days=3))
    assert autumn.earliest == date(2027, 5, 10)


def test_it_waits_for_the_stage_before():
    assert reading(previous=PreviousFacts("decking", done_on=SIGNED)).earliest == TODAY
    planned = PreviousFacts("decking", ends_on=date(2026, 5, 7))
    assert reading(previous=planned).earliest == date(2026, 5, 7)
    assert reading(previous=replace(planned, same_crew=False)).earliest == date(2026, 5, 8)
    gates = reading(previous=PreviousFacts("decking"))
    assert (gates.earliest, gates.kind) == (None, "previous")
    assert reading(previous=PreviousFacts("decking", ends_on=date(2026, 4, 30))).earliest == TODAY


def test_it_waits_for_the_goods_of_this_stage():
    friday = MaterialsFacts(False, date(2026, 5, 8), "8 floats, promised Fri 8 May.")
    gates = reading(materials=friday)
    assert (gates.earliest, gates.governor) == (date(2026, 5, 11), "8 floats, promised Fri 8 May.")
    assert reading(materials=MaterialsFacts(True)).certain
    assert reading(materials=MaterialsFacts(False)).earliest is None
    assert reading(materials=MaterialsFacts(False, date(2026, 5, 1))).earliest is None  # the promise has passed
    assert reading(materials=MaterialsFacts(False), waived=frozenset({"materials"})).earliest == TODAY


def test_it_never_lets_one_person_work_alone_on_the_water():
    alone = {"crew_name": "Vail", "people": 1}
    for stage in ("launch", "anchoring"):
        gates = reading(stage=stage, **alone)
        assert (gates.earliest, gates.kind) == (None, "people")
        assert "2 are needed on the water" in gates.governor
    assert reading(stage="framing", **alone).earliest == TODAY
    everything = frozenset({"cancellation", "deposit", "materials"})
    assert reading(stage="anchoring", waived=everything, **alone).earliest is None


def test_it_waits_for_skill_crew_and_boat():
    assert reading(crew_name="Tolliver’s crew", lacking_skill="runs the boat").kind == "people"
    gates = reading(crew_name="Tolliver’s crew", crew_free=lambda day: day >= date(2026, 5, 13))
    assert (gates.earliest, gates.kind) == (date(2026, 5, 13), "crew")
    assert gates.governor == "Tolliver’s crew is taken until 2026-05-12."
    gates = reading(boat_kind="boat", boat_free=lambda day: day != TODAY)
    assert (gates.earliest, gates.kind) == (date(2026, 5, 5), "boat")
    assert reading(boat_kind="barge", boat_known=False).kind == "boat"


def test_it_waits_for_the_water_to_rise():
    rises = LevelFacts(lambda day: day >= date(2026, 5, 12), "The water must stand at 11.5 ft.")
    gates = reading(level=rises)
    assert (gates.earliest, gates.governor) == (date(2026, 5, 12), "The water must stand at 11.5 ft.")


def test_it_stops_what_is_held_before_all_else():
    gates = reading(held_why="diagonals differ by 1/2 in", materials=MaterialsFacts(False))
    assert (gates.kind, gates.earliest) == ("hold", None)


def test_it_waits_for_what_somebody_said_until_the_day_promised():
    wait = HoldFacts("4 hinge kits. Oona acts.", date(2026, 5, 12))
    gates = reading(holds=(wait,))
    assert (gates.earliest, gates.governor) == (date(2026, 5, 12), "Held: 4 hinge kits. Oona acts.")
    assert reading(holds=(replace(wait, until=date(2026, 5, 1)),)).earliest is None
    assert reading(holds=(replace(wait, until=None),)).earliest is None


def test_it_hooks_up_before_the_boards():
    assert order_of(launch_first=True).index("launch") < order_of(launch_first=True).index("decking")
    assert order_of(launch_first=False).index("decking") < order_of(launch_first=False).index("launch")
    assert set(order_of(launch_first=True)) == set(STAGE_NAMES)


DAYS = st.dates(TODAY - timedelta(days=60), TODAY + timedelta(days=200))
MAYBE = st.none() | DAYS
MONTH_DAY = st.tuples(st.integers(1, 12), st.integers(1, 28))
ANY_FACTS = st.builds(
    StageFacts,
    stage=st.sampled_from(list(STAGE_NAMES)),
    today=DAYS,
    days=st.integers(1, 5),
    signed_on=MAYBE,
    cancellation=st.builds(CancellationRule, st.integers(0, 10), st.booleans(), st.booleans()),
    deposit=st.builds(DepositFacts, st.just(Decimal(10)), st.sampled_from([Decimal(0), Decimal(10)]), MAYBE),
    permits=st.none()
    | st.lists(
        st.builds(PermitFacts, st.just("the town"), st.booleans(), MAYBE, MAYBE, MAYBE, MAYBE, MAYBE),
        max_size=2,
    ).map(tuple),
    windows=st.lists(st.builds(YearRange, st.booleans(), MONTH_DAY, MONTH_DAY, st.just("x")), max_size=2).map(tuple),
    previous=st.none() | st.builds(PreviousFacts, st.just("layout"), MAYBE, MAYBE, st.booleans()),
    materials=st.none() | st.builds(MaterialsFacts, st.booleans(), MAYBE),
    work_days=st.builds(WorkDays, st.frozensets(st.integers(1, 7), min_size=1)),
    crew_name=st.just("Falk’s crew"),
    crew_free=st.builds(lambda odd: lambda day: day.toordinal() % 5 != odd, st.integers(0, 4)),
    people=st.integers(1, 3),
    launch_first=st.booleans(),
    waived=st.frozensets(st.sampled_from(["deposit", "materials", "cancellation"])),
)


@given(ANY_FACTS)
def test_it_names_a_governor_for_every_date_and_breaks_no_gate(facts):
    gates = read_gates(facts)
    assert gates.governor
    if gates.earliest is None:
        assert any(gate.opens is None and gate.words == gates.governor for gate in gates.all)
        return
    assert gates.earliest >= facts.today
    assert all(gate.opens is not None and gate.opens <= gates.earliest for gate in gates.all)
    span = facts.work_days.span(gates.earliest, facts.days)
    assert span[0] == gates.earliest
    assert all(allows_day(facts, day) and facts.crew_free(day) for day in span)
    if facts.stage in ("launch", "anchoring"):
        assert facts.people >= 2


@given(ANY_FACTS)
def test_it_never_starts_earlier_for_knowing_more_that_waits(facts):
    waiting = replace(facts, materials=MaterialsFacts(False, date(2026, 12, 1)))
    before, later = read_gates(replace(facts, materials=None)).earliest, read_gates(waiting).earliest
    if before and later:
        assert later >= before
