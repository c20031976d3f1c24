"""Failed sign-ins slow down whoever tries them, cool off by themselves, and never lock the owner out from elsewhere."""

import datetime
from dataclasses import dataclass

from django.utils import timezone
from django.utils.crypto import salted_hmac

from contractor.company.models import LoginAttempt


@dataclass(frozen=True)
class Limit:
    failures: int
    within: datetime.timedelta


BY_ADDRESS = Limit(30, datetime.timedelta(minutes=15))
BY_NAME_AND_ADDRESS = Limit(6, datetime.timedelta(minutes=10))
FORGOTTEN_AFTER = datetime.timedelta(days=1)


def wait_before(login: str, address: str, *, now: datetime.datetime | None = None) -> datetime.timedelta:
    """How long this name at this address must wait before the next try; zero if it may try now."""
    now = now or timezone.now()
    from_here = LoginAttempt.objects.filter(address=address)
    this_name = from_here.filter(name_digest=_digest(login, address))
    return max(_wait(from_here, BY_ADDRESS, now), _wait(this_name, BY_NAME_AND_ADDRESS, now))


def note_failure(login: str, address: str, *, now: datetime.datetime | None = None) -> None:
    now = now or timezone.now()
    LoginAttempt.objects.filter(at__lt=now - FORGOTTEN_AFTER).delete()
    LoginAttempt.objects.create(at=now, address=address, name_digest=_digest(login, address))


def note_success(login: str, address: str) -> None:
    """The right password clears this name's failures at this address, and no others."""
    LoginAttempt.objects.filter(address=address, name_digest=_digest(login, address)).delete()


def _wait(attempts, limit: Limit, now: datetime.datetime) -> datetime.timedelta:
    tried = list(attempts.since(now - limit.within).order_by("-at").values_list("at", flat=True)[: limit.failures])
    if len(tried) < limit.failures:
        return datetime.timedelta(0)
    return max(tried[-1] + limit.within - now, datetime.timedelta(0))


def _digest(login: str, address: str) -> str:
    return salted_hmac("company.throttle", f"{login.strip().lower()}\n{address}", algorithm="sha256").hexdigest()
