"""What a site says to a dock spec. Levels, depths, miles and bottom are typed once, on the site."""

from dataclasses import replace

from estimating.engine.spec import Boat, DockSpec, Place, Water
from estimating.engine.spec import DepthPoint as SpecDepth
from jobs.records.models import Ice, Job, LevelRange, Salt, Site


def place_from_site(site: Site, *, before: Place | None = None) -> Place:
    """The engine's place for a site. Only what no site can say (water temperature on the day) is kept from `before`."""
    levels = site.levels
    return Place(
        water=Water(
            kind="fresh" if site.salt == Salt.UNKNOWN else site.salt,
            datum=levels.datum,
            low_in=levels.low_in,
            normal_in=levels.normal_in,
            high_in=levels.high_in,
            storm_in=levels.storm_in,
        ),
        depths=_depths(site, levels),
        bottom=site.bottom,
        bank_height_in=site.bank_height_in,
        island=bool(site.island),
        carry_in=site.carry_in,
        water_temp_f=before.water_temp_f if before else None,
        one_way_miles=site.miles_from_yard,
        current_kn=site.current_knots,
        fetch_mi=site.fetch_miles,
        moving_ice=None if site.ice == Ice.UNKNOWN else site.ice == Ice.MOVING,
    )


def spec_at_site(spec: DockSpec, site: Site) -> DockSpec:
    """The spec standing at this site: its place, and the hinge height where the site knows one."""
    placed = replace(spec, place=place_from_site(site, before=spec.place))
    if placed.ramp is None or site.hinge_level_in is None:
        return placed
    return replace(placed, ramp=replace(placed.ramp, hinge_level_in=site.hinge_level_in))


def spec_for_job(spec: DockSpec, job: Job) -> DockSpec:
    """The spec standing at the job's site, with the longest boat the job knows of; else with its own boats."""
    placed = spec_at_site(spec, job.site)
    if job.boat_length_in is None:
        return placed
    return replace(placed, boats=(Boat(length_in=job.boat_length_in, weight_lb=job.boat_weight_lb),))


def _depths(site: Site, levels: LevelRange) -> tuple[SpecDepth, ...]:
    points = site.depths_standing() if site.pk else []
    known = ((point, point.below_normal_in(levels)) for point in points)
    return tuple(
        SpecDepth(label=point.label, distance_in=point.distance_in, depth_in=depth_in, bottom=point.bottom)
        for point, depth_in in known
        if depth_in is not None and depth_in >= 0 and point.distance_in is not None
    )
