"""Spec revisions: lettered, placed at their site, frozen once quoted, never overwritten by a stale page."""

from dataclasses import replace

import pytest

from contractor.company.models import Staff
from estimating.engine.reasons import SpecFaults
from estimating.engine.spec import Place, Ramp, Water
from estimating.engine.spec_file import dump_spec
from estimating.quotes.models import Quote
from jobs.records import services
from jobs.records.models import Job, Site, SpecRevision
from tests.people import the_firm

from .conftest import make_job, make_site


@pytest.fixture
def revision(job: Job, merrit: Staff) -> SpecRevision:
    return services.start_spec(job, by=merrit)


def widened(revision: SpecRevision, width_in: float):
    spec = services.spec_of(revision)
    return replace(spec, sections=(replace(spec.sections[0], width_in=width_in), *spec.sections[1:]))


def draft_of(job: Job, revision: SpecRevision, by: Staff) -> Quote:
    return Quote.objects.create(
        job=job,
        letter="A",
        spec_letter=revision.letter,
        spec_document=revision.document,
        margin_percent=15,
        rounding_step=10,
        tax_mode="shop_pays",
        valid_until=job.called_on,
        title="Dock",
        created_by=by,
    )


def said(sentences) -> list[str]:
    from contractor.quantities import say

    return [sentence.say(lambda amount: say(amount.value, amount.unit)) for sentence in sentences]


@pytest.mark.parametrize(
    ("rough", "sizes_in"),
    [
        ("6 x 16", [(72, 192)]),
        ("16' by 8'", [(96, 192)]),
        ("something to swim off", [(72, 192)]),
        ("6 × 48 ft", [(72, 192), (72, 192), (72, 192)]),
    ],
)
def test_it_starts_from_the_rough_size_in_sections_that_can_be_moved(merrit, rough, sizes_in) -> None:
    spec = services.spec_of(services.start_spec(make_job(merrit, rough_size=rough), by=merrit))
    assert [(s.width_in, s.length_in) for s in spec.sections] == sizes_in
    assert [(j.first, j.second) for j in spec.joints] == [("A", "B"), ("B", "C")][: len(sizes_in) - 1]
    assert sum(s.length_in for s in spec.sections) == spec.sections[-1].x_in + spec.sections[-1].length_in


def test_it_moves_the_job_to_estimating(job: Job, revision: SpecRevision) -> None:
    job.refresh_from_db()
    assert (revision.letter, job.stage) == ("A", "estimating")


def test_it_takes_the_place_from_the_site_and_follows_it(job: Job, revision: SpecRevision, merrit: Staff) -> None:
    site = Site.objects.get(pk=job.site_id)
    services.save_levels(site, seen_version=0, changes={"datum": "dock pin", "normal_in": 42.0}, by=merrit)
    services.save_site(site, seen_version=1, changes={"miles_from_yard": 23.0, "bottom": "mud"}, by=merrit)
    revision.refresh_from_db()
    place = services.spec_of(revision).place
    assert (place.water.normal_in, place.water.low_in, place.one_way_miles, place.bottom) == (42.0, None, 23.0, "mud")
    assert revision.version == 1


def test_it_brings_an_unsent_quote_along(job: Job, revision: SpecRevision, merrit: Staff) -> None:
    quote = draft_of(job, revision, merrit)
    saved = services.save_spec(revision, spec=widened(revision, 96.0), seen_version=1, by=merrit)
    quote.refresh_from_db()
    assert quote.spec_document == saved.document
    second = services.next_revision(saved, by=merrit)
    services.save_site(job.site, seen_version=1, changes={"miles_from_yard": 23.0}, by=merrit)
    second.refresh_from_db(), quote.refresh_from_db()
    assert (quote.spec_letter, quote.spec_document) == ("B", second.document)
    assert quote.spec_document["place"]["one_way_miles"] == 23.0


def test_it_freezes_what_was_quoted_and_moves_the_job_on(job: Job, revision: SpecRevision, merrit: Staff) -> None:
    quote = draft_of(job, revision, merrit)
    job.quote_was_sent(quote, by=merrit)
    revision.refresh_from_db(), job.refresh_from_db()
    assert (revision.frozen, job.stage) == (True, "quoted")
    job.quote_was_accepted(quote, by=merrit)
    job.quote_was_sent(quote, by=merrit)
    assert Job.objects.get(pk=job.pk).stage == "accepted"


def test_it_leaves_a_frozen_revision_when_the_site_changes(job: Job, revision: SpecRevision, merrit: Staff) -> None:
    services.freeze_spec(revision, by=merrit)
    services.save_site(job.site, seen_version=1, changes={"miles_from_yard": 23.0}, by=merrit)
    revision.refresh_from_db()
    assert services.spec_of(revision).place.one_way_miles is None


def test_it_sets_the_ramp_hinge_from_the_site_where_the_site_knows_it(job: Job, revision, merrit: Staff) -> None:
    spec = replace(services.spec_of(revision), ramp=Ramp(length_in=144.0, hinge_level_in=70.0))
    assert services.save_spec(revision, spec=spec, seen_version=1, by=merrit).document["ramp"]["hinge_level_in"] == 70.0
    services.save_site(job.site, seen_version=1, changes={"hinge_level_in": 79.2}, by=merrit)
    revision.refresh_from_db()
    assert revision.document["ramp"]["hinge_level_in"] == 79.2


def test_it_keeps_odd_sixteenths_exactly(revision: SpecRevision, merrit: Staff) -> None:
    width_in = 72 + 5 / 16
    for version in (1, 2, 3):
        services.save_spec(revision, spec=widened(revision, width_in + version), seen_version=version, by=merrit)
        revision.refresh_from_db()
        assert services.spec_of(revision).sections[0].width_in == width_in + version


def test_it_refuses_a_stale_page_and_says_what_each_changed(revision: SpecRevision, merrit: Staff) -> None:
    services.save_spec(revision, spec=widened(revision, 96.0), seen_version=1, by=merrit)
    with pytest.raises(services.SpecChangedMeanwhile) as refused:
        services.save_spec(revision, spec=widened(revision, 60.0), seen_version=1, by=merrit)
    assert said(refused.value.theirs) == ["Section A: width 6′ 0″ to 8′ 0″"]
    assert said(refused.value.yours) == ["Section A: width 6′ 0″ to 5′ 0″"]
    assert (refused.value.version, refused.value.by_name) == (2, merrit.name)
    revision.refresh_from_db()
    assert services.spec_of(revision).sections[0].width_in == 96.0


def test_it_refuses_to_change_a_frozen_revision(revision: SpecRevision, merrit: Staff) -> None:
    services.freeze_spec(revision, by=merrit)
    with pytest.raises(services.SpecFrozen):
        services.save_spec(revision, spec=widened(revision, 96.0), seen_version=1, by=merrit)


def test_it_carries_on_under_the_next_letter(revision: SpecRevision, merrit: Staff) -> None:
    second = services.next_revision(revision, by=merrit)
    assert (second.letter, second.document, second.frozen) == ("B", revision.document, False)


def test_it_copies_a_spec_to_another_job_s_site(revision: SpecRevision, merrit: Staff) -> None:
    other = make_job(merrit, site=make_site(miles_from_yard=7.0))
    copied = services.copy_spec(revision, to=other, by=merrit)
    assert (copied.letter, copied.made_from) == ("A", revision)
    assert services.spec_of(copied).place.one_way_miles == 7.0


def test_it_copies_a_job_with_its_newest_spec(job: Job, revision: SpecRevision, merrit: Staff) -> None:
    services.save_spec(
        services.next_revision(revision, by=merrit), spec=widened(revision, 96.0), seen_version=1, by=merrit
    )
    new = services.copy_job(job, by=merrit, on=job.called_on)
    assert (new.number, new.client, new.site, new.stage) == ("26-002", job.client, job.site, "estimating")
    [spec] = new.spec_revisions.all()
    assert services.spec_of(spec).sections[0].width_in == 96.0


def test_it_exports_a_file_that_imports_as_the_same_dock(job: Job, revision: SpecRevision, merrit: Staff) -> None:
    document = services.export_spec(revision)
    imported, overruled = services.import_spec(job, document=document, by=merrit)
    assert (imported.letter, imported.document, overruled) == ("B", document, ())


def test_it_names_the_wrong_field_of_a_file_and_keeps_nothing(job: Job, revision: SpecRevision, merrit: Staff) -> None:
    document = services.export_spec(revision)
    document["sections"][0]["width_in"] = -72
    with pytest.raises(SpecFaults) as refused:
        services.import_spec(job, document=document, by=merrit)
    assert [fault.field for fault in refused.value.faults] == ["sections[0].width_in"]
    assert job.spec_revisions.count() == 1


def test_it_says_where_the_site_overrules_a_file(job: Job, revision: SpecRevision, merrit: Staff) -> None:
    services.save_site(job.site, seen_version=1, changes={"miles_from_yard": 23.0}, by=merrit)
    spec = replace(services.spec_of(revision), place=Place(water=Water(kind="salt"), one_way_miles=40.0))
    _, overruled = services.import_spec(Job.objects.get(pk=job.pk), document=dump_spec(spec), by=merrit)
    assert said(overruled) == ["Site: water salt to fresh", "Site: miles one way 40.0 mi to 23.0 mi"]


def test_it_starts_a_metric_firm_in_round_metres(merrit) -> None:
    the_firm(units="metric")
    spec = services.spec_of(services.start_spec(make_job(merrit, rough_size="an L"), by=merrit))
    assert [(s.width_in * 25.4, s.length_in * 25.4) for s in spec.sections] == [pytest.approx((1900, 4900))]
    named = services.spec_of(services.start_spec(make_job(merrit, rough_size="1.8 x 7.2 m"), by=merrit))
    assert [s.length_in * 25.4 for s in named.sections] == pytest.approx([3600, 3600])
