"""Where a job stands today: what it waits for, since when, who acts. Read from what is on record, never typed."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, Literal

from django.db.models import Prefetch, prefetch_related_objects
from django.utils import timezone

from estimating.quotes.models import Quote
from jobs.records.models import Ending, Job, Permit, PermitState, SpecRevision
from jobs.records.models.saying import day_said

Group = Literal["today", "waiting", "clear", "ended"]

BUILD_STAGES = ("layout", "framing", "flotation", "decking", "anchoring", "hand-over")
HEAVY_QUOTE_FIELDS = ("figures", "customer_pdf", "shop_pdf", "spec_document", "what_changed")


@dataclass(frozen=True, slots=True)
class Standing:
    """One sentence about a job: `before`, then what is `awaited`, then `after`. `act` names the one thing to press."""

    job: Job
    group: Group
    since: date
    before: str
    awaited: str
    after: str
    who: str
    when: str = ""
    act: str = ""
    act_on: Any = None
    about: str = ""  # what kind of thing is awaited: customer, permit, floats, hardware, lumber, water
    held: str = ""  # the stage of the spine that cannot begin
    done: frozenset[str] = frozenset()
    at: str = ""  # where the building stands, in words, once it is planned
    now: str = ""  # the stage of the spine that is under way
    part: int = 0  # per cent of its days that are over
    days_said: Mapping[str, str] = field(default_factory=dict)  # of each stage of the spine that has a day
    by_kind: Mapping[str, "Standing"] = field(default_factory=dict)  # of each kind awaited, what of it comes first

    def days(self, *, on: date) -> int:
        return max((on - self.since).days, 0)

    @property
    def since_said(self) -> str:
        """The day it began, short enough for a margin: 14 Apr."""
        return day_said(self.since, short=True).replace(f"{self.since:%B}", f"{self.since:%b}")

    @property
    def stages(self) -> tuple[dict[str, Any], ...]:
        """The six stages of the spine, those done and the one that is held."""
        return tuple(
            {
                "name": name,
                "state": self._state(name),
                "part": self.part,
                "line": self.days_said.get(name, ""),
                "held": name == self.held and self.awaited,
            }
            for name in BUILD_STAGES
        )

    def _state(self, name: str) -> str:
        return "done" if name in self.done else "now" if name == self.now else ""

    @property
    def stage_words(self) -> str:
        """The spine in words."""
        if self.held:
            held = f"Holds {self.held}, stage {BUILD_STAGES.index(self.held) + 1} of {len(BUILD_STAGES)}"
            return f"{held}. {self.at}" if self.at else held
        if self.at:
            return self.at
        return f"{len(self.done)} of {len(BUILD_STAGES)} stages done" if self.done else "Before layout"

    @property
    def done_words(self) -> str:
        """The stages done, in order."""
        return ", ".join(name for name in BUILD_STAGES if name in self.done)

    @property
    def said(self) -> str:
        """The whole sentence as plain text."""
        waiting = f"Waiting for {self.awaited}{self.after}" if self.awaited else self.after
        return " ".join(filter(None, [self.before, waiting]))


def with_papers(jobs: Iterable[Job]) -> list[Job]:
    """The jobs with the quotes, specs and permits their standing is read from, in three questions."""
    found = list(jobs)
    prefetch_related_objects(
        found,
        Prefetch("quotes", Quote.objects.defer(*HEAVY_QUOTE_FIELDS).order_by("pk")),
        Prefetch("spec_revisions", SpecRevision.objects.defer("document").order_by("position")),
        "permits",
    )
    return found


def standing_of(job: Job, *, on: date) -> Standing:
    """Where this job stands on a day by its papers. Ask `with_papers` first when there are many."""
    return _Reader(job, on).read()


Refine = Callable[[Standing, date], Standing]
_REFINED_BY: list[Refine] = []


def refine_standing(refine: Refine) -> None:
    """A later room knows more of what a signed job waits for; its answer takes the place of ours."""
    if refine not in _REFINED_BY:
        _REFINED_BY.append(refine)


def full_standing(job: Job, *, on: date) -> Standing:
    """Where this job stands on a day by all that the rooms know of it."""
    standing = standing_of(job, on=on)
    for refine in _REFINED_BY:
        standing = refine(standing, on)
    return standing


class _Reader:
    def __init__(self, job: Job, on: date) -> None:
        self.job, self.on = job, on
        self.owner = job.owner.first_name

    def read(self) -> Standing:
        if not self.job.is_open:
            return self._ended()
        quotes = {quote.state: quote for quote in self.job.quotes.all()}  # the newest of each state
        for state, said in (
            ("accepted", self._accepted),
            ("draft", self._draft),
            ("sent", self._sent),
            ("refused", self._refused),
        ):
            if state in quotes:
                return said(quotes[state])
        specs = list(self.job.spec_revisions.all())
        return self._drawn(specs[-1]) if specs else self._before_spec()

    def _say(self, group: Group, since: date, words: tuple[str, str, str], who: str, **more: Any) -> Standing:
        before, awaited, after = words
        return Standing(
            job=self.job, group=group, since=since, before=before, awaited=awaited, after=after, who=who, **more
        )

    def _ended(self) -> Standing:
        job = self.job
        reason = f": {job.ended_reason.rstrip('.')}" if job.ended_reason else ""
        words = f"{Ending(job.ending).label.capitalize()} {day_said(job.ended_on)}{reason}."
        return self._say("ended", job.ended_on, (words, "", ""), "Nobody", when="the job has ended")

    def _accepted(self, quote: Quote) -> Standing:
        signed = f"Signed {_short(quote.accepted_on)}."
        permits = list(self.job.permits.all())
        if not permits:
            words, who = (signed, "a word on permits", ": none is noted, needed or not."), f"{self.owner} finds out"
            return self._say("today", quote.accepted_on, words, who, act="ask_permit", about="permit")
        for permit in permits:
            said = self._permit(permit, permit.state(on=self.on), signed, quote.accepted_on)
            if said:
                return said
        held = "The permit is in force." if any(permit.needed for permit in permits) else "No permit is needed."
        who = f"{self.owner} plans the work"
        return self._say("clear", quote.accepted_on, (signed, "", held), who, when="and orders for it")

    def _permit(self, permit: Permit, state: PermitState, signed: str, signed_on: date) -> Standing | None:
        awaited, who = f"the permit of {permit.authority}", permit.who_applies or self.owner
        if state == PermitState.NEEDED:
            words = (signed, awaited, ", not applied for.")
            return self._say("today", signed_on, words, f"{who} applies", act="permit", act_on=permit, about="permit")
        if state == PermitState.APPLIED:
            return self._applied(permit, signed, awaited)
        if state == PermitState.ISSUED:
            begins = _short(permit.starts_on or permit.issued_on)
            words = (signed, awaited, f" to come into force {begins}.")
            when = f"it ends by itself {begins}"
            return self._say("waiting", signed_on, words, "Nobody", when=when, about="permit")
        if state == PermitState.EXPIRED:
            words = (signed, awaited, f", which expired {day_said(permit.expires_on)}.")
            more = {"act": "permit", "act_on": permit, "about": "permit"}
            return self._say("today", permit.expires_on, words, f"{who} renews it", **more)
        return None

    def _applied(self, permit: Permit, signed: str, awaited: str) -> Standing:
        since, expected = permit.applied_on, permit.expected_on
        if expected is None:
            words, when = (signed, awaited, ", applied for."), f"{self.owner} asks when the answer comes"
            return self._say("waiting", since, words, f"{permit.authority} decides", when=when, about="permit")
        words = (signed, awaited, f", expected {_short(expected)}.")
        if expected < self.on:
            who, more = f"{self.owner} phones", {"when": "the answer is late", "act": "permit", "act_on": permit}
            return self._say("today", since, words, who, about="permit", **more)
        when = f"{self.owner} checks {_short(expected)}"
        return self._say("waiting", since, words, f"{permit.authority} decides", when=when, about="permit")

    def _draft(self, quote: Quote) -> Standing:
        words = (f"Quote {quote.letter} is written.", "the last look", " before it is sent.")
        who = f"{self.owner} sends it"
        return self._say("today", _day(quote.created_at), words, who, act="quote", act_on=quote)

    def _sent(self, quote: Quote) -> Standing:
        until = _short(quote.valid_until)
        if quote.valid_until < self.on:
            words = (f"Quote {quote.letter} ran out {until}.", "a new price or a no", ".")
            more = {"act": "quote", "act_on": quote, "about": "customer"}
            return self._say("today", quote.valid_until, words, f"{self.owner} phones", **more)
        words = (f"Quote {quote.letter} is out.", "a signature", f". The price holds until {until}.")
        when = f"{self.owner} phones before {until}"
        return self._say("waiting", _day(quote.sent_at), words, "The client signs", when=when, about="customer")

    def _refused(self, quote: Quote) -> Standing:
        before = f"Quote {quote.letter} was refused: {quote.refused_reason.rstrip('.')}."
        words = (before, "a decision", ": another revision, or an end.")
        return self._say("today", quote.refused_on, words, f"{self.owner} decides", act="quote", act_on=quote)

    def _drawn(self, spec: SpecRevision) -> Standing:
        words = (f"Spec {spec.letter} is drawn.", "a quote", ".")
        return self._say("today", _day(spec.created_at), words, f"{self.owner} prices it", act="spec", act_on=spec)

    def _before_spec(self) -> Standing:
        job, called = self.job, f"Called {_short(self.job.called_on)}."
        promised = f". Promised: {job.promised.rstrip('.')}." if job.promised else "."
        visit = job.visit_on
        if visit is None:
            words, who = (called, "a site visit or a spec", promised), f"{self.owner} books it"
            return self._say("today", job.called_on, words, who, act="book")
        if visit > self.on:
            words, who = (called, "the site visit", f", {_short(visit)}{promised}"), f"{self.owner} visits"
            return self._say("waiting", job.called_on, words, who, when=_short(visit))
        if visit == self.on:
            words, who = (called, "the site visit", f", today{promised}"), f"{self.owner} visits"
            return self._say("today", job.called_on, words, who, when="today", act="sheet")
        words = (f"The visit was {_short(visit)}.", "a spec", promised)
        return self._say("today", visit, words, f"{self.owner} draws it", act="start")


def _short(day: date) -> str:
    return day_said(day, short=True, weekday=True)


def _day(moment: datetime) -> date:
    return timezone.localtime(moment).date()
