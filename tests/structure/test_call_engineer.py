"""When a builder stops and gets an engineer: common practice, no source."""

import pytest

from estimating.engine.spec import DockSpec, Ramp
from estimating.engine.structure.engineer import SiteFacts, engineer_triggers

KNOWN = SiteFacts(
    public_use=False,
    moving_ice=False,
    boat_length_in=240,
    boat_lb=4000,
    current_kn=0.5,
    wave_in=12,
    fetch_mi=0.5,
)
SPEC = DockSpec("dock", (), ramp=Ramp(192.0))


def changed(**facts) -> SiteFacts:
    return SiteFacts(**{name: getattr(KNOWN, name) for name in SiteFacts.__dataclass_fields__} | facts)


def test_a_sheltered_private_dock_needs_none() -> None:
    assert engineer_triggers(SPEC, KNOWN) == ()


@pytest.mark.parametrize(
    ("facts", "level"),
    [
        ({"public_use": True}, "stop"),
        ({"crowd_events": True}, "stop"),
        ({"roof": True}, "stop"),
        ({"piles": True}, "stop"),
        ({"moving_ice": True}, "stop"),
        ({"stamp_asked": True}, "stop"),
        ({"boat_length_in": 26 * 12 + 1}, "stop"),
        ({"boat_lb": 8001}, "stop"),
        ({"current_kn": 2.1}, "stop"),
        ({"wave_in": 25}, "stop"),
        ({"fetch_mi": 1.5}, "check"),
        ({"fetch_mi": 2.5}, "stop"),
    ],
)
def test_one_fact_is_enough(facts: dict, level: str) -> None:
    (finding,) = engineer_triggers(SPEC, changed(**facts))
    assert finding.level == level
    assert "engineer" in str(finding.cure)


@pytest.mark.parametrize(
    "facts", [{"boat_length_in": 26 * 12}, {"boat_lb": 8000}, {"current_kn": 2}, {"wave_in": 24}, {"fetch_mi": 1}]
)
def test_the_limit_itself_still_passes(facts: dict) -> None:
    assert engineer_triggers(SPEC, changed(**facts)) == ()


def test_a_gangway_over_20_ft_is_one() -> None:
    assert engineer_triggers(DockSpec("dock", (), ramp=Ramp(240.0)), KNOWN) == ()
    (finding,) = engineer_triggers(DockSpec("dock", (), ramp=Ramp(241.0)), KNOWN)
    assert (finding.level, finding.field) == ("stop", "ramp.length_in")


def test_what_is_not_known_is_asked_and_not_guessed() -> None:
    (finding,) = engineer_triggers(SPEC)
    assert finding.level == "note"
    for words in ("who uses it", "moving ice", "the current", "the waves", "the boats' weight"):
        assert words in str(finding.headline)
