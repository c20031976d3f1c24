"""Stringers: as continuous beams on their floats, each a bed of springs, and as simple beams between float centres.

On the floats the load may stand anywhere. Between float centres is the bound that forgets how long a float is.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import sqrt

from estimating.engine.frame_result import MemberCheck
from estimating.engine.reasons import Amount, Sentence, Step

from .beam import Array, Beam, Load, Point, Spread, Spring, bend
from .factors import Adjusted, Service, least_adjusted, repetitive_factor
from .rows import Asked, check_row, lumber_steps, step
from .sections import Framed, Rest, Stock
from .spans import span_by_deflection_in
from .values import Listed, design_values

# Three Gauss points stand for the even push of a float's bed of springs, exactly to the fifth degree.
_GAUSS = ((-sqrt(0.6), 5 / 18), (0.0, 8 / 18), (sqrt(0.6), 5 / 18))
LIVE_RATIO, CURVE_RATIO = 360.0, 180.0
_SPREADS = (
    ("people on all of it", ((0.0, 1.0),)),
    ("people on the half by its {0}", ((0.0, 0.5),)),
    ("people on the half by its {1}", ((0.5, 1.0),)),
    ("people on its middle half", ((0.25, 0.75),)),
    ("people at both ends, nobody between", ((0.0, 0.25), (0.75, 1.0))),
)


@dataclass(frozen=True, slots=True)
class Strength:
    """A stick's lumber, its values adjusted for its service, and how they came about."""

    listed: Listed
    own: Adjusted
    steps: tuple[Step, ...]

    @property
    def gravity(self) -> float:
        return min(row.gravity for row in self.listed.rows)


@lru_cache(maxsize=512)
def strength_of(stock: Stock, service: Service) -> Strength:
    """What a stick bears in its service. Source: NDS_VALUES, NDS_FACTORS."""
    listed = design_values(stock.species, stock.thickness_in, stock.depth_in)
    own = least_adjusted(listed, (stock.thickness_in, stock.depth_in), service)
    return Strength(listed, own, lumber_steps(stock, listed, own))


def stringer_strength(framed: Framed, *, unbraced_in: float = 0.0, duration: str = "ten years") -> Strength:
    """Wet, repetitive if they stand close enough. Source: NDS_FACTORS."""
    together = repetitive_factor(count=len(framed.centres_in), spacing_in=framed.spacing_in)
    service = Service(
        framed.stringer.treatment, repetitive=together, duration=duration, unbraced_in=round(unbraced_in, 3)
    )
    return strength_of(framed.stringer, service)


@dataclass(frozen=True, slots=True)
class OnFloats:
    """The stringers of one section bent on their floats: unlike ones by row, loads by column."""

    stringers: tuple[Rest, ...]
    names: tuple[Sentence, ...]
    moment_lb_in: Array
    shear_lb: Array
    curve_in: Array


def bend_on_floats(sections: Sequence[tuple[Framed, Sequence[Rest]]]) -> list[OnFloats | None]:
    """Sections in the order given, those whose floats lie alike solved together; None for one without floats."""
    jobs = [_Job.of(framed, held) if held else None for framed, held in sections]
    together: dict[tuple[object, ...], list[int]] = {}
    for at, job in enumerate(jobs):
        if job is not None:
            together.setdefault(job.places, []).append(at)
    found: list[OnFloats | None] = [None] * len(jobs)
    for numbers in together.values():
        group = [jobs[at] for at in numbers]
        for at, bent in zip(numbers, _bend_alike(group), strict=True):
            found[at] = bent
    return found


@dataclass(frozen=True, slots=True)
class _Job:
    stringers: tuple[Rest, ...]
    names: tuple[Sentence, ...]
    beams: tuple[Beam, ...]
    patterns: list[list[list[Load]]]

    @classmethod
    def of(cls, framed: Framed, held: Sequence[Rest]) -> "_Job":
        alike = zip(held, _shares(framed, held), strict=True)
        kinds = {(round(rest.width_in, 6), rest.under, share): rest for rest, share in alike}
        names, patterns = _patterns(framed, kinds)
        e_psi = stringer_strength(framed).own.e_psi
        beams = tuple(_beam(framed, rest, e_psi) for rest in kinds.values())
        return cls(tuple(kinds.values()), tuple(names), beams, patterns)

    @property
    def places(self) -> tuple[object, ...]:
        return self.beams[0].length_in, *(spring.x_in for beam in self.beams for spring in beam.springs)


def _bend_alike(group: Sequence[_Job]) -> Iterator[OnFloats]:
    # Every beam needs as many patterns: the shorter lists say their last one again.
    most = max(len(job.names) for job in group)
    padded = [own + own[-1:] * (most - len(own)) for job in group for own in job.patterns]
    bent = bend([beam for job in group for beam in job.beams], padded)
    moment, shear, curve = bent.most_moment_lb_in, bent.most_shear_lb, bent.most_bend_in
    row = 0
    for job in group:
        own = slice(row, row + len(job.beams)), slice(0, len(job.names))
        row += len(job.beams)
        yield OnFloats(job.stringers, job.names, moment[own], shear[own], curve[own])


def stringer_checks(framed: Framed, held: Sequence[Rest], bent: OnFloats | None) -> list[MemberCheck]:
    """Bending, shear and curve on the floats, then bending, shear and sag between float centres."""
    if bent is None:
        return []
    braced = stringer_strength(framed, unbraced_in=framed.most_unbraced_in)
    return [*_on_floats(framed, bent, braced), *_between(framed, held, stringer_strength(framed))]


def _on_floats(framed: Framed, bent: OnFloats, strength: Strength) -> list[MemberCheck]:
    stock, own = framed.stringer, strength.own
    rows: list[MemberCheck] = []
    beds: dict[int, tuple[Step, ...]] = {}
    # The curve is told apart from sinking and trim: the furthest from the straight line through both ends.
    for kind, name, table, limit in (
        ("stringer_bending", "bending", bent.moment_lb_in / stock.modulus_in3, own.fb_psi),
        ("stringer_shear", "shear", 1.5 * bent.shear_lb / stock.area_sqin, own.fv_psi),
        ("stringer_bend", "curve on the floats", bent.curve_in, framed.length_in / CURVE_RATIO),
    ):
        row, column = divmod(int(table.argmax()), table.shape[1])
        rest, soft = bent.stringers[row], kind == "stringer_bend"
        name = f"{_which(framed, rest).capitalize()}, {name}"
        unit, source = ("in", "STATICS") if soft else ("psi", "NDS_FACTORS")
        asked = Asked(kind, name, bent.names[column], float(table[row, column]), limit, unit, soft)
        bed = beds.get(row) or beds.setdefault(row, _bed_steps(framed, rest))
        rows.append(check_row(asked, _FLOAT_RULES[kind], source, (*bed, *strength.steps)))
    return rows


_FLOAT_RULES = {
    "stringer_bending": "A continuous beam on its floats as springs, load where it is worst: moment ÷ section modulus.",
    "stringer_shear": "A continuous beam on its floats as springs, load where it is worst: 1.5 × shear ÷ area.",
    "stringer_bend": "How far it curves from the straight line through its ends: its length ÷ 180 at most.",
}


def _which(framed: Framed, rest: Rest) -> str:
    return "rim stringers" if rest.number in (0, len(framed.centres_in) - 1) else "inner stringers"


def _bed_steps(framed: Framed, rest: Rest) -> tuple[Step, ...]:
    return (
        step("Carries a width of", rest.width_in, "in"),
        step("Dock itself, wet", framed.dead_psf, "psf"),
        step("People", framed.live_psf, "psf"),
        step("Floats under it push back, per inch of sinking", sum(k for _, _, k in rest.under), "lb"),
    )


def _beam(framed: Framed, rest: Rest, e_psi: float) -> Beam:
    springs = tuple(
        Spring((start + end) / 2 + place * (end - start) / 2, k * part)
        for start, end, k in rest.under
        for place, part in _GAUSS
    )
    return Beam(framed.length_in, e_psi * framed.stringer.inertia_in4, springs)


def _patterns(
    framed: Framed, kinds: dict[tuple[float, object, tuple[float, float]], Rest]
) -> tuple[list[Sentence], list[list[list[Load]]]]:
    length = framed.length_in
    heavy = sorted({0.0, length / 2, length, _widest_gap_middle(framed)}) if framed.heavy_lb > 0 else []
    names = [Sentence(name, framed.ends) for name, _ in _SPREADS]
    standing = "{0} over it, {1} from its {2}"
    names += [
        Sentence(standing, (Amount(framed.heavy_lb, "lb"), Amount(place, "in"), framed.ends[0])) for place in heavy
    ]
    names += [Sentence("the deck and the ramp full of people")] * (framed.landing is not None)
    return names, [_own_patterns(framed, rest, key[2], heavy) for key, rest in kinds.items()]


def _own_patterns(framed: Framed, rest: Rest, shares: tuple[float, float], heavy: Sequence[float]) -> list[list[Load]]:
    length, per_in = framed.length_in, rest.width_in / 144
    over, landed = shares
    dead: list[Load] = [Spread(0.0, length, framed.dead_psf * per_in)]
    landing = framed.landing
    if landing is not None:
        dead.append(Point(landing.u_in, landing.dead_lb * landed))
    live = framed.live_psf * per_in
    patterns = [[*dead, *(Spread(start * length, end * length, live) for start, end in spans)] for _, spans in _SPREADS]
    patterns += [[*dead, Point(place, framed.heavy_lb * over)] for place in heavy]
    if landing is not None:
        patterns.append([*dead, Spread(0.0, length, live), Point(landing.u_in, landing.live_lb * landed)])
    return patterns


def point_shares(stiff_lb_per_in: Sequence[float], across_in: Sequence[float], v_in: float) -> tuple[float, ...]:
    """How much of a point load at a place across the section each stringer and its floats take.

    Headers, cross members and deck keep the section straight across, so it sinks and heels as one. Source: STATICS.

    >>> point_shares((10, 10, 10), (0, 24, 48), 24), [round(share, 3) for share in point_shares((1, 1), (0, 48), 12)]
    ((0.3333333333333333, 0.3333333333333333, 0.3333333333333333), [0.75, 0.25])
    """
    whole = sum(stiff_lb_per_in)
    both = list(zip(stiff_lb_per_in, across_in, strict=True))
    middle = sum(k * v for k, v in both) / whole
    turning = sum(k * (v - middle) ** 2 for k, v in both)
    heel = (v_in - middle) / turning if turning > 0 else 0.0
    return tuple(k * (1 / whole + heel * (v - middle)) for k, v in both)


def _shares(framed: Framed, held: Sequence[Rest]) -> list[tuple[float, float]]:
    """For each stringer, of a point right over it, and of the ramp's foot."""
    stiff = [sum(k for _, _, k in each.under) for each in held]
    across = [framed.centres_in[each.number] for each in held]
    over = [point_shares(stiff, across, v)[n] for n, v in enumerate(across)]
    landing = framed.landing
    landed = point_shares(stiff, across, landing.v_in) if landing is not None else (0.0,) * len(held)
    return [(round(a, 9), round(b, 9)) for a, b in zip(over, landed, strict=True)]


def _widest_gap_middle(framed: Framed) -> float:
    ends = sorted({(each.u0_in, each.u1_in) for each in framed.floats})
    gaps = [(there[0] - here[1], (here[1] + there[0]) / 2) for here, there in pairwise(ends)]
    middle = max(gaps, default=(0.0, framed.length_in / 2))[1]
    return min(max(middle, 0.0), framed.length_in)


@dataclass(frozen=True, slots=True)
class SimpleSpan:
    """A simple beam with an even load, pounds per inch: moment, shear and sag, with a heavy point in its middle."""

    span_in: float
    dead_lb_per_in: float
    live_lb_per_in: float
    point_lb: float = 0.0

    @property
    def load_lb_per_in(self) -> float:
        return self.dead_lb_per_in + self.live_lb_per_in

    @property
    def moment_lb_in(self) -> float:
        """The greater of the even load's and that of the dock itself with the point.

        >>> SimpleSpan(72, 2, 5).moment_lb_in, SimpleSpan(72, 2, 5, 400).moment_lb_in
        (4536.0, 8496.0)
        """
        even = self.load_lb_per_in * self.span_in**2 / 8
        return max(even, self.dead_lb_per_in * self.span_in**2 / 8 + self.point_lb * self.span_in / 4)

    @property
    def shear_lb(self) -> float:
        """At the support, with the point close to it."""
        return max(self.load_lb_per_in * self.span_in / 2, self.dead_lb_per_in * self.span_in / 2 + self.point_lb)

    def sag_in(self, ei_lb_sqin: float) -> float:
        """Under the even live load or the point, whichever is more."""
        even = 5 * self.live_lb_per_in * self.span_in**4 / (384 * ei_lb_sqin)
        return max(even, self.point_lb * self.span_in**3 / (48 * ei_lb_sqin))


def _between(framed: Framed, held: Sequence[Rest], strength: Strength) -> list[MemberCheck]:
    spans = [(rest.width_in, there - here, rest) for rest in held for here, there in pairwise(rest.float_centres_in)]
    if not spans:
        return []
    width, span, rest = max(spans, key=lambda each: each[0] * each[1] ** 2)
    simple = SimpleSpan(span, framed.dead_psf * width / 144, framed.live_psf * width / 144)
    return simple_rows(framed, simple, strength, ("span", f"{_which(framed, rest).capitalize()}, float to float"))


def simple_rows(
    framed: Framed, simple: SimpleSpan, strength: Strength, named: tuple[str, str], *, soft: bool = True
) -> list[MemberCheck]:
    """Bending, shear and sag of a stringer as a simple beam, with the span its strength would allow."""
    kind, name = named
    stock, own = framed.stringer, strength.own
    lumber = strength.steps
    ei = own.e_psi * stock.inertia_in4
    span = (step("Span", simple.span_in, "in"), step("Load on it", simple.load_lb_per_in * 12, "lb_per_ft"))
    where = Sentence("people on all of it")
    moment = (*span, step("Moment", simple.moment_lb_in, "lb-in"), *lumber)
    bent = simple.moment_lb_in / stock.modulus_in3
    sheared = 1.5 * simple.shear_lb / stock.area_sqin
    sag = (*span, step("E′", own.e_psi, "psi"))
    if simple.live_lb_per_in > 0:
        most = span_by_deflection_in(
            e_psi=own.e_psi,
            inertia_in4=stock.inertia_in4,
            load_lb_per_in=simple.live_lb_per_in,
            ratio=LIVE_RATIO,
        )
        sag = (*sag, step("It would be stiff enough to a span of", most, "in"))
    rows = (
        (Asked(f"{kind}_bending", f"{name}, bending", where, bent, own.fb_psi, "psi", soft), "NDS_FACTORS", moment),
        (Asked(f"{kind}_shear", f"{name}, shear", where, sheared, own.fv_psi, "psi", soft), "NDS_FACTORS", span),
        (
            Asked(
                f"{kind}_deflection",
                f"{name}, sag",
                where,
                simple.sag_in(ei),
                simple.span_in / LIVE_RATIO,
                "in",
                True,
            ),
            "DCA_6",
            sag,
        ),
    )
    return [check_row(asked, _SIMPLE_RULES[asked.kind.split("_")[-1]], source, steps) for asked, source, steps in rows]


_SIMPLE_RULES = {
    "bending": "A simple beam under an even load: w L² ÷ 8, over the section modulus.",
    "shear": "A simple beam under an even load: 1.5 × w L ÷ 2, over the area.",
    "deflection": "A simple beam under the live load sags its span ÷ 360 at most.",
}
