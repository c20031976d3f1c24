"""Jobs, docks and quotes for these tests. All invented."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import pairwise
from typing import Any

from django.utils import timezone

from contractor.company.models import PaymentStep, Role, Staff, Trigger
from estimating.catalogue.services import load_starter
from estimating.engine.spec import Accessory, Allowance, Anchor, DockSpec, Joint, Ramp, Section, Work
from estimating.quotes import services
from estimating.quotes.models import Quote, QuoteOption
from jobs.records import services as records
from jobs.records.models import Job
from tests.people import person, the_firm

FIRM = {
    "name": "Dowsing Dockworks",
    "address": "14 Spurling Road\nCorriveau Landing",
    "phone": "555 0114",
    "registration_line": "Registration DW-20417",
    "insurance_line": "Insured; certificate on request",
    "cancellation_notice": "You may cancel within three business days of signing, without giving a reason.",
    "warranty": "Two years on frame and work.",
}
CLIENT = {"names": "Ilse Quarrington\nTom Quarrington", "filed_under": "Quarrington"}
SITE = {
    "water_body": "Long Quillet Lake",
    "name": "22 Heron Spit Road",
    "miles_from_yard": 23.0,
    "hinge_level_in": 66.0,
    "bottom": "gravel",
}
DEPTHS = (
    {"label": "ramp end", "distance_in": 144.0, "depth_in": 50.0},
    {"label": "lake end", "distance_in": 336.0, "depth_in": 84.0},
)
LEVELS = {"low_in": 18.0, "normal_in": 42.0, "high_in": 54.0, "datum": "causeway staff"}

COMPOSITE = {
    "name": "Composite boards",
    "words": "Grey, no splinters, no staining.",
    "kind": "swap",
    "change": {"from": "deck-2x6", "to": "deck-composite"},
}
THIN_BOARDS = {"name": "Thinner boards", "kind": "swap", "change": {"from": "deck-2x6", "to": "deck-5/4x6"}}
BUMPER = {"name": "Bumper strip", "kind": "add", "change": {"item": "bumper", "quantity": 2}}
OLD_DOCK = {"name": "Take the old dock away", "kind": "sum", "typed_amount": Decimal("380.00")}


def today() -> date:
    return timezone.localdate()


def the_shop(**facts: Any) -> Staff:
    """The firm with its starter catalogue and a plan of thirds; returns the owner."""
    the_firm(**{**FIRM, **facts})
    owner = person(Role.OWNER)
    load_starter(by=owner)
    plan = ((Trigger.SIGNING, 30), (Trigger.DECKING, 40), (Trigger.DEFECTS, 30))
    PaymentStep.objects.all().delete()
    PaymentStep.objects.bulk_create(
        PaymentStep(position=place, trigger=trigger, percent=percent) for place, (trigger, percent) in enumerate(plan)
    )
    return owner


def a_job(by: Staff, *, client: dict[str, Any] | None = None, site: dict[str, Any] | None = None) -> Job:
    who = records.record_client(facts={**CLIENT, **(client or {})}, by=by)
    where = records.record_site(facts={**SITE, **(site or {})}, by=by)
    records.save_levels(where, seen_version=0, changes=LEVELS, by=by)
    records.save_depths(where, seen_version=1, rows=DEPTHS, by=by)
    return records.open_job(client=who, site=where, facts={"rough_size": "6 x 16"}, by=by, on=today())


def straight() -> DockSpec:
    return DockSpec("6 × 16 ft dock", (Section("A", 192.0, 72.0),))


def with_ramp() -> DockSpec:
    """Two sections end to end, a ramp, two anchors, a ladder and cleats."""
    return DockSpec(
        "Dock with ramp",
        (Section("A", 96.0, 72.0), Section("B", 96.0, 72.0, x_in=96.0)),
        (Joint("A", "B", "rigid"),),
        Ramp(144.0, 48.0, hinge_level_in=66.0, shore_fixing="concrete pad"),
        (Anchor("1", "B", "lake-left", depth_in=72.0), Anchor("2", "B", "lake-right", depth_in=72.0)),
        (Accessory("ladder"), Accessory("cleat", 4)),
        work=Work(permit_fees=(Allowance("Town permit", Decimal(125)),)),
    )


def l_shape() -> DockSpec:
    return DockSpec(
        "L-shaped dock",
        (Section("A", 240.0, 72.0), Section("B", 192.0, 72.0, x_in=168.0, y_in=72.0, turned=True)),
        (Joint("A", "B", "rigid"),),
        Ramp(144.0, 48.0, section="A", hinge_level_in=66.0),
        (Anchor("1", "B", "lake-left", depth_in=72.0), Anchor("2", "A", "lake-right", depth_in=72.0)),
    )


def swim_platform() -> DockSpec:
    corners = ("shore-left", "shore-right", "lake-left", "lake-right")
    anchors = tuple(Anchor(str(n), "A", corner, depth_in=96.0) for n, corner in enumerate(corners, 1))
    return DockSpec("Swim platform", (Section("A", 120.0, 120.0),), anchors=anchors, accessories=(Accessory("ladder"),))


def twelve_sections() -> DockSpec:
    """A walk of eight with four fingers."""
    marks = "ABCDEFGH"
    walk = tuple(Section(mark, 192.0, 72.0, x_in=192.0 * n) for n, mark in enumerate(marks))
    fingers = tuple(
        Section(mark, 144.0, 48.0, x_in=192.0 * n + 72.0, y_in=72.0, turned=True)
        for mark, n in zip("JKMN", (1, 3, 5, 7), strict=True)
    )
    joints = tuple(Joint(a, b) for a, b in pairwise(marks))
    joints += tuple(Joint(walk, finger, "rigid") for walk, finger in zip("BDFH", "JKMN", strict=True))
    anchors = tuple(Anchor(str(n), mark, "lake-left", depth_in=96.0) for n, mark in enumerate("JKMN", 1))
    return DockSpec("Twelve sections", (*walk, *fingers), joints, Ramp(192.0, hinge_level_in=66.0), anchors)


def drafted(by: Staff, *, spec: DockSpec | None = None, job: Job | None = None, options=(), **terms: Any) -> Quote:
    """A draft of a job from this spec, with these options and terms."""
    job = job or a_job(by)
    revision = records.start_spec(job, spec=spec or straight(), by=by)
    facts = {"spec_letter": revision.letter, "spec_document": revision.document}
    quote = services.draft_quote(job, **facts, by=by, on=today())
    if options or terms:
        quote = services.save_draft(quote, seen_version=quote.version, changes=terms, options=list(options), by=by)
    return Quote.objects.get(pk=quote.pk)


def sent(by: Staff, **facts: Any) -> Quote:
    quote = drafted(by, **facts)
    return services.send_quote(quote, seen_version=quote.version, by=by, on=today())


def revised(quote: Quote, *, by: Staff, spec: DockSpec | None = None) -> Quote:
    """The next draft of the quote's job, from a changed spec if one is given."""
    job = quote.job
    if spec is not None:
        records.start_spec(job, spec=spec, by=by)
    letter, document = job.spec_to_quote()
    return services.draft_quote(job, spec_letter=letter, spec_document=document, by=by, on=today())


def longer(spec: DockSpec, length_in: float) -> DockSpec:
    first, *rest = spec.sections
    return replace(spec, sections=(replace(first, length_in=length_in), *rest))


def option_named(quote: Quote, name: str) -> QuoteOption:
    return quote.options.get(name=name)
