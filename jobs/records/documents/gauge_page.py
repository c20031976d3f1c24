"""What a gauge's page says: its year in a drawing, the months in a table, and the levels it proposes."""

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from django.utils import timezone

from contractor.company.current import units
from contractor.quantities import format_level
from estimating.engine.water import Envelope, MonthLevels, Proposal, Season, by_month, envelope, propose
from jobs.records.models import Gauge, LevelRange
from jobs.records.models.saying import day_said

from .gauge_chart import MONTHS, SMALL, WIDE, Chart, draw_gauge_chart


@dataclass(frozen=True, slots=True)
class GaugeFacts:
    """A gauge's page worked out; levels are inches above the gauge's zero, or on the site's datum where it is known."""

    wide: str
    small: str
    months: tuple[tuple[str, MonthLevels], ...]
    proposal: Proposal | None
    envelope: Envelope | None
    season_said: str
    datum: str
    on_site: bool  # whether the levels are on the site's datum
    percents_said: tuple[str, ...]


def gauge_facts(
    gauge: Gauge, levels: LevelRange, *, percents: tuple[float, float, float], season: Season | None
) -> GaugeFacts:
    """The page of a gauge for these percentiles and this season, on the site's datum where that can be done."""
    series, zone = gauge.readings(), ZoneInfo(timezone.get_current_timezone_name())
    datum = levels.datum or gauge.datum
    lift = gauge.to_site_in(datum)
    series = series if not lift else type(series)(series.at_min, series.level_in + lift, series.flags)
    months = by_month(series, percents, zone)
    held = envelope(series, season, zone)
    proposal = propose(series, percents, season, zone)
    chart = Chart(
        title=f"{gauge}, by month",
        months=months,
        percents=percents,
        lines=_lines(levels, proposal, on_site=lift is not None),
        season=season,
        envelope=held,
        system=units(),
    )
    return GaugeFacts(
        wide=draw_gauge_chart(chart, size=WIDE, name="gauge-wide", kind="wide"),
        small=draw_gauge_chart(chart, size=SMALL, name="gauge-small", kind="small"),
        months=tuple((MONTHS[month.month - 1], month) for month in months),
        proposal=proposal,
        envelope=held,
        season_said=_envelope_said(held),
        datum=datum if lift is not None else gauge.datum,
        on_site=lift is not None,
        percents_said=tuple(f"{percent:g} %" for percent in percents),
    )


def _lines(levels: LevelRange, proposal: Proposal | None, *, on_site: bool) -> list[tuple[str, float]]:
    """The site's own levels, or what is proposed where none stands that can be drawn on this datum."""
    words = ("low", "normal", "high", "storm")
    standing = (levels.low_in, levels.normal_in, levels.high_in, levels.storm_in)
    known = [(word, level) for word, level in zip(words, standing, strict=True) if level is not None]
    if known and on_site:
        return known
    if proposal is None:
        return []
    return list(zip(words[:3], (proposal.low_in, proposal.normal_in, proposal.high_in), strict=True))


def _envelope_said(found: Envelope | None) -> str:
    if found is None:
        return "Nothing was read in this season."
    low, high = (format_level(level, units()) for level in (found.lowest_in, found.highest_in))
    years = "1 year" if found.years == 1 else f"{found.years} years"
    return f"Between {low} ({day_said(found.lowest_on)}) and {high} ({day_said(found.highest_on)}) in {years}."
