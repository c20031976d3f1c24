"""What a job tells its quote: who signs, where, and what the price takes for granted."""

from datetime import UTC, date, datetime

from contractor.company.models import Staff
from jobs.records import services
from jobs.records.models import Job, Site
from tests.people import the_firm

from .conftest import make_client, make_job, make_site


def test_it_says_what_is_known_and_what_is_not(merrit: Staff) -> None:
    facts = make_job(merrit).quote_facts()
    assert (facts.filed_under, facts.signers) == ("Quarrington", ("Ilse Quarrington", "Tom Quarrington"))
    assert (facts.place, facts.water_body) == ("22 Heron Spit Road", "Long Quillet Lake")
    assert facts.assumptions == (
        "Water levels: unknown.",
        "Depth at normal level: unknown.",
        "Bottom: unknown.",
        "Access by land: gate width, steps, carry and overhead wires not known.",
    )


def test_it_says_levels_and_depths_as_measured_and_when(merrit: Staff) -> None:
    site = make_site(bottom="gravel", gate_width_in=48.0, steps=14, carry_in=0.0, overhead_wires=False)
    services.save_levels(
        site, seen_version=0, changes={"datum": "dock pin", "low_in": 18.0, "normal_in": 42.0}, by=merrit
    )
    facts = {"read_at": datetime(2026, 3, 27, 15, tzinfo=UTC), "value_in": 48.0, "datum": "dock pin"}
    reading = services.record_reading(site, facts=facts, by=merrit)
    rows = [{"label": "ramp end", "depth_in": 56.4, "reading": reading, "bottom": "mud", "soft_depth_in": 6.0}]
    services.save_depths(site, seen_version=1, rows=rows, by=merrit)
    told = make_job(merrit, site=Site.objects.get(pk=site.pk)).quote_facts()
    assert told.assumptions == (
        "Water levels: low 1.5 ft, normal 3.5 ft on dock pin.",
        "The water stood at 4.0 ft on dock pin on 27 March 2026.",
        "Depth at normal level: ramp end 4.2 ft.",
        "Bottom: gravel, mud at ramp end (0.5 ft soft).",
        "Access by land: 4′ 0″ gate, 14 steps, no carry, no overhead wires.",
    )
    assert (told.level_rows, told.datum) == ((("Low", 18.0), ("Normal", 42.0)), "dock pin")
    the_firm(units="metric")
    assert "Depth at normal level: ramp end 1.28 m." in Job.objects.get().quote_facts().assumptions


def test_it_hands_over_a_certificate_only_for_the_exempt(merrit: Staff) -> None:
    exempt = {"tax_status": "exempt", "exemption_number": "EX 17", "exemption_expires": date(2027, 1, 31)}
    told = make_job(merrit, client=make_client(**exempt)).quote_facts()
    assert (told.tax_exempt_certificate, told.tax_exempt_until) == ("EX 17", date(2027, 1, 31))
    taxed = make_client(exemption_number="EX 16", exemption_expires=date(2025, 1, 31))
    assert make_job(merrit, client=taxed).quote_facts().tax_exempt_certificate == ""
