"""What a job answers when a quote asks, and how far a quote carries it."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone

from contractor.company.current import units
from contractor.company.journal import log_change
from contractor.company.models import Staff
from contractor.quantities import format_level
from estimating.quotes.facts import JobFacts

from . import saying
from .clients import TaxStatus
from .held_to import against
from .kept_checks import KeptCheck

_AFTER_ACCEPTANCE: list[Callable[..., Any]] = []


def when_accepted(follow: Callable[..., Any]) -> None:
    """A later room asks to be called, as `follow(quote, by=...)`, in the transaction that accepts a quote."""
    if follow not in _AFTER_ACCEPTANCE:
        _AFTER_ACCEPTANCE.append(follow)


class AnswersQuotes:
    """The job's half of `estimating.quotes.facts.QuotedJob`. Hooks run in the transaction that changed the quote."""

    def quote_facts(self) -> JobFacts:
        client, site, levels = self.client, self.site, self.site.levels
        exempt = client.tax_status == TaxStatus.EXEMPT
        rows = (("Low", levels.low_in), ("Normal", levels.normal_in), ("High", levels.high_in))
        return JobFacts(
            number=self.number,
            filed_under=client.filed_under,
            signers=tuple(client.signers),
            billing_address=tuple(line for line in client.billing_address.splitlines() if line.strip()),
            place=site.name or site.address.split("\n")[0].strip(),
            water_body=site.water_body,
            assumptions=self._assumptions(),
            level_rows=tuple((name, level) for name, level in rows if level is not None),
            datum=levels.datum,
            tax_exempt_certificate=client.exemption_number if exempt else "",
            tax_exempt_until=client.exemption_expires if exempt else None,
            permit_words=self._permit_words(on=timezone.localdate()),
            against=against(self),
            kept_checks={kept.key: kept.words for kept in self._kept_checks()},
        )

    def spec_to_quote(self) -> tuple[str, Mapping[str, Any]]:
        """Letter and document of the newest revision."""
        newest = self.spec_revisions.newest_first().first()
        return newest.letter, newest.document

    def quote_was_sent(self, quote, *, by: Staff) -> None:
        """The spec that was quoted stays as it was, and the job stands at quoted."""
        for revision in self.spec_revisions.open_to_change().filter(letter=quote.spec_letter):
            revision.frozen, revision.frozen_at = True, timezone.now()
            revision.save(update_fields=["frozen", "frozen_at"])
            log_change(revision, did="froze", by=by)
        if self.stage != "accepted":
            self._reach("quoted", by=by)

    def quote_was_accepted(self, quote, *, by: Staff) -> None:
        self._reach("accepted", by=by)
        for follow in _AFTER_ACCEPTANCE:
            follow(quote, by=by)

    def quote_was_refused(self, quote, *, by: Staff) -> None:
        """The stage stays: whether the job ends or a revision follows is for its owner to say."""

    def _reach(self, stage: str, *, by: Staff) -> None:
        job = type(self)._base_manager.select_for_update().get(pk=self.pk)
        if job.stage == stage:
            return
        before = {"stage": job.stage, "stage_since": job.stage_since}
        job.stage, job.stage_since = stage, timezone.localdate()
        job.version += 1
        job.save(update_fields=["stage", "stage_since", "version", "find_text"])
        after = {"stage": job.stage, "stage_since": job.stage_since, "version": job.version}
        log_change(job, did=stage, by=by, before=before, after=after)
        self.stage, self.stage_since, self.version = job.stage, job.stage_since, job.version

    def _assumptions(self) -> tuple[str, ...]:
        system, site = units(), self.site
        levels, points = site.levels, site.depths_standing()
        land = saying.land_access_said(site, system)
        return tuple(
            said
            for said in (
                f"Water levels: {_inside(saying.levels_said(levels, system))}",
                self._last_reading(),
                f"Depth at normal level: {_inside(saying.depths_said(points, levels, system))}",
                f"Bottom: {_inside(saying.bottom_said(site, points, system))}",
                f"Access by land: {_inside(land)}" if land else "",
            )
            if said
        )

    def _last_reading(self) -> str:
        reading = self.site.readings.standing().first()
        if reading is None:
            return ""
        read_on = timezone.localtime(reading.read_at).date()
        level = format_level(reading.value_in, units())
        return f"The water stood at {level} on {reading.datum} on {saying.day_said(read_on)}."

    def _kept_checks(self) -> QuerySet[KeptCheck]:
        return KeptCheck.objects.filter(revision__job=self).order_by("at", "pk")

    def _permit_words(self, *, on: date) -> str:
        return " ".join(saying.permit_said(permit, on=on) for permit in self.permits.all())


def _inside(said: str) -> str:
    """A sentence carried on after a colon."""
    return f"{said[:1].lower()}{said[1:]}"
