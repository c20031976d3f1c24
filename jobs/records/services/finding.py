"""One box that finds a job by any name, place, number or word."""

import re
from dataclasses import dataclass

from jobs.records.models import Client, Job, Site

MOST_FOUND = 50
MOST_KNOWN = 6


@dataclass(frozen=True, slots=True)
class Found:
    """Jobs found, open and newest first; `exact` is the one whose number was typed; `more` is how many are left."""

    jobs: list[Job]
    exact: Job | None = None
    more: int = 0


def find_jobs(typed: str) -> Found:
    """Every word typed must stand somewhere in a job; case, accents and punctuation do not matter."""
    exact = _by_number(typed)
    if exact:
        return Found([exact], exact)
    if not typed.strip():
        return Found([])
    keys = list(Job.objects.found_by(typed).open_first().values_list("pk", flat=True))
    jobs = Job.objects.filter(pk__in=keys[:MOST_FOUND]).in_full().open_first()
    return Found(list(jobs), more=len(keys[MOST_FOUND:]))


def known_clients(*, names: str, phones: str = "", email: str = "", chosen: str = "") -> list[Client]:
    """Clients that may be the one who calls: the one chosen, all the names typed, or their phone, or their email."""
    found = {client.pk: client for client in _by_id(Client, chosen)}
    digits = "".join(filter(str.isdigit, phones))
    for typed in (names if len(names.strip()) >= 2 else "", phones if len(digits) >= 5 else "", email):
        if typed.strip():
            found |= {client.pk: client for client in Client.objects.found_by(typed)[:MOST_KNOWN]}
    return list(found.values())[:MOST_KNOWN]


def known_sites(*, water_body: str = "", name: str = "", client: Client | None = None, chosen: str = "") -> list[Site]:
    """Sites that may be meant: the one chosen, those of this client, those whose water and road were typed."""
    found = {site.pk: site for site in _by_id(Site, chosen)}
    if client:
        found |= {site.pk: site for site in Site.objects.of_client(client.pk)[:MOST_KNOWN]}
    if len(name.strip()) >= 2:
        found |= {site.pk: site for site in Site.objects.found_by(f"{water_body} {name}")[:MOST_KNOWN]}
    return list(found.values())[:MOST_KNOWN]


def _by_id(model: type[Client] | type[Site], typed: str) -> list:
    return list(model.objects.filter(pk=int(typed))) if typed.isdecimal() and len(typed) < 12 else []


def _by_number(typed: str) -> Job | None:
    """The job whose number was typed, or the number of one of its quotes: that is the job's with a letter."""
    number = re.fullmatch(r"\s*(?:(?:job|quote)\s+)?(\d\d)\s*[-–/ ]\s*(\d{1,6})\s*[a-z]?\s*", typed, re.IGNORECASE)
    if not number:
        return None
    return Job.objects.filter(number=f"{number[1]}-{int(number[2]):03d}").first()
