"""Advice on what to finish first, worked by hand and against going through every way of sharing."""

import random
from collections import defaultdict
from datetime import date, timedelta
from decimal import Decimal
from itertools import product

import pytest

from estimating.engine.finishing import Advice, Goods, StillNeeded, finish_first

TODAY = date(2026, 5, 1)
MAY_8 = date(2026, 5, 8)
MAY_20 = date(2026, 5, 20)
JUNE = date(2026, 6, 1)


def need(job: str, item: str, quantity: int | str, by: date = MAY_8, section: str = "") -> StillNeeded:
    return StillNeeded(job, item, Decimal(quantity), by, section)


def goods(item: str, quantity: int | str, on: date | None = None) -> Goods:
    return Goods(item, Decimal(quantity), on)


def finished(advice: Advice) -> list[str]:
    return [one.job + one.section for one in advice.finish]


def test_it_finishes_two_docks_rather_than_half_of_the_first() -> None:
    advice = finish_first(
        [need("1041", "float", 8), need("1042", "float", 6), need("1043", "float", 4)], [goods("float", 10)]
    )
    assert finished(advice) == ["1042", "1043"]
    assert (advice.met, advice.dates, advice.left_waiting, advice.first_come_met) == (2, 3, 1, 1)
    assert advice.proven
    assert str(advice.finish[0].words) == "Everything is in the yard: finish it first."
    assert advice.wait[0].lacks == (("float", Decimal(8)),)
    assert str(advice.wait[0].words) == "Still owed after the others: 8 of float."


def test_it_takes_no_goods_for_a_job_that_lacks_something_else() -> None:
    advice = finish_first(
        [need("1041", "float", 5), need("1041", "hinge", 2), need("1042", "float", 5, JUNE)], [goods("float", 5)]
    )
    assert finished(advice) == ["1042"]
    assert advice.wait[0].lacks == (("float", Decimal(5)), ("hinge", Decimal(2)))


def test_it_leaves_the_yard_to_the_date_that_cannot_wait_for_the_truck() -> None:
    needs = [need("1041", "float", 4, JUNE), need("1042", "float", 4, MAY_8)]
    advice = finish_first(needs, [goods("float", 4), goods("float", 4, MAY_20)])
    assert [(one.job, one.ready_on, one.in_time) for one in advice.finish] == [
        ("1042", None, True),
        ("1041", MAY_20, True),
    ]
    assert str(advice.finish[1].words) == "Complete 20 May, in time for 1 Jun."
    assert advice.words.say() == "All 2 dates can be met; no job is left waiting."


def test_it_finishes_late_what_cannot_be_in_time_rather_than_leave_it_waiting() -> None:
    advice = finish_first([need("1041", "float", 4, MAY_8)], [goods("float", 4, MAY_20)])
    assert (advice.met, advice.left_waiting) == (0, 0)
    assert str(advice.finish[0].words) == "Complete 20 May, too late for 8 May."


def test_it_weighs_a_met_date_above_jobs_left_waiting() -> None:
    # Either the long dock in time, or two small ones late: one date met counts first.
    needs = [need("1041", "float", 4, MAY_8)]
    needs += [need(job, "float", 2, MAY_8) for job in ("1042", "1043")]
    needs += [need(job, "hinge", 1, MAY_8) for job in ("1042", "1043")]
    advice = finish_first(needs, [goods("float", 4), goods("hinge", 2, JUNE)])
    assert (finished(advice), advice.met, advice.left_waiting) == (["1041"], 1, 2)


def test_it_finishes_sections_of_a_dock_that_cannot_be_finished_whole() -> None:
    needs = [need("1041", "float", 4, section="A"), need("1041", "float", 4, section="B")]
    advice = finish_first(needs, [goods("float", 5)])
    assert finished(advice) == ["1041A"]
    assert advice.left_waiting == 1
    assert advice.wait[0].lacks == (("float", Decimal(3)),)


def test_it_finishes_one_dock_whole_rather_than_a_section_of_each() -> None:
    needs = [need(job, "float", 4, section=mark) for job in ("1041", "1042") for mark in "AB"]
    advice = finish_first(needs, [goods("float", 8)])
    assert {one.job for one in advice.finish} in ({"1041"}, {"1042"})
    assert advice.left_waiting == 1


def test_it_serves_a_date_already_past_from_the_yard() -> None:
    advice = finish_first([need("1041", "float", 4, date(2026, 4, 1))], [goods("float", 4)], today=TODAY)
    assert advice.met == 1


def test_it_counts_feet_as_well_as_pieces() -> None:
    needs = [need("1041", "chain", "37.5"), need("1042", "chain", "62.5")]
    assert finish_first([*needs, need("1043", "chain", "0.1")], [goods("chain", "100")]).left_waiting == 1
    advice = finish_first(needs, [goods("chain", "100")])
    assert advice.left_waiting == 0
    assert sum(share.quantity for one in advice.finish for share in one.shares) == 100


def test_it_says_nothing_where_nothing_is_needed() -> None:
    advice = finish_first([], [goods("float", 4)])
    assert (advice.finish, advice.wait, advice.dates) == ((), (), 0)


# Brute force: each unit is in time, late or left; goods are matched one by one to what they can serve.


def matched(wanted: list[date], here: list[date]) -> bool:
    """Whether every wanted piece gets one of its own that is here by its day."""
    taken: dict[int, int] = {}

    def serve(piece: int, tried: set[int]) -> bool:
        for number, day in enumerate(here):
            if number in tried or day > wanted[piece]:
                continue
            tried.add(number)
            if number not in taken or serve(taken[number], tried):
                taken[number] = piece
                return True
        return False

    return all(serve(piece, set()) for piece in range(len(wanted)))


def best_score(needs: list[StillNeeded], supply: list[Goods]) -> tuple[int, int, int]:
    units = sorted({(one.job, one.section) for one in needs})
    here = defaultdict(list)
    for one in supply:
        here[one.item] += [one.on or date.min] * int(one.quantity)

    def possible(fates: dict[tuple[str, str], str]) -> bool:
        wanted = defaultdict(list)
        for one in needs:
            fate = fates[one.job, one.section]
            if fate != "left":
                day = one.needed_by if fate == "in time" else date.max
                wanted[one.item] += [day] * int(one.quantity)
        return all(matched(days, here[item]) for item, days in wanted.items())

    scores = []
    for choice in product(("in time", "late", "left"), repeat=len(units)):
        fates = dict(zip(units, choice, strict=True))
        if possible(fates):
            waiting = {job for (job, _), fate in fates.items() if fate == "left"}
            scores.append((choice.count("in time"), -len(waiting), -choice.count("left")))
    return max(scores)


@pytest.mark.parametrize("seed", range(40))
def test_it_does_as_well_as_going_through_everything(seed: int) -> None:
    rnd = random.Random(seed)
    needs = []
    for unit in range(rnd.randint(2, 6)):
        job, section = (f"j{unit // 2}", "AB"[unit % 2]) if seed % 2 else (f"j{unit}", "")
        for item in rnd.sample("xyz", rnd.randint(1, 2)):
            needs.append(need(job, item, rnd.randint(1, 4), TODAY + timedelta(rnd.randrange(6)), section))
    supply = [
        goods(item, rnd.randint(0, 4), None if place == 0 else TODAY + timedelta(rnd.randrange(8)))
        for item in "xyz"
        for place in range(3)
    ]
    advice = finish_first(needs, supply)
    assert advice.proven
    assert (advice.met, -advice.left_waiting, -len(advice.wait)) == best_score(needs, supply)
    assert advice.first_come_met <= advice.met
    given = defaultdict(int)
    for one in advice.finish:
        for share in one.shares:
            given[share.item, share.on] += share.quantity
            assert not one.in_time or (share.on or date.min) <= max(
                n.needed_by for n in needs if (n.job, n.section, n.item) == (one.job, one.section, share.item)
            )
    have = defaultdict(int)
    for one in supply:
        have[one.item, one.on] += one.quantity
    assert all(amount <= have[key] for key, amount in given.items())


def test_it_meets_far_more_dates_of_three_hundred_jobs_than_first_come() -> None:
    rnd = random.Random(1)
    needs = [
        need(f"{1000 + job}", item, rnd.randint(1, 12), TODAY + timedelta(rnd.randrange(40)))
        for job in range(300)
        for item in rnd.sample([f"item {n}" for n in range(20)], 3)
    ]
    supply = [
        goods(f"item {n}", rnd.randint(50, 120), on) for n in range(20) for on in (None, TODAY + timedelta(9), JUNE)
    ]
    advice = finish_first(needs, supply, seconds=0.5)
    assert advice.met > 2 * advice.first_come_met
    assert advice.met + len(advice.wait) <= advice.dates == 300
