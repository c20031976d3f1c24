import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection, transaction
from hypothesis import HealthCheck
from hypothesis import settings as hypothesis_settings
from playwright.sync_api import Browser, expect, sync_playwright

from contractor.company import current
from contractor.company.models import Staff
from tests.machine import chromium_path, chromium_trouble
from tests.quotes.making import the_shop

CHROMIUM_ARGUMENTS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# A busy machine is slow, not wrong: how long an example takes is no failure. The same examples everywhere, so that
# what is green here is green there; WHARFWRIGHT_TEST_EXAMPLES tries many more.
hypothesis_settings.register_profile(
    "house", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
hypothesis_settings.load_profile("house")
DATABASE_FIXTURES = {"db", "transactional_db", "live_server"}
ONE_RUN_IS_ENOUGH = ("paper", "page")


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Passes over files that never name the one mark asked for: importing them would be all that comes of it."""
    asked = config.option.markexpr
    if asked not in ("browser", "postgres") or not collection_path.match("test_*.py"):
        return None
    return f"mark.{asked}" not in collection_path.read_text(encoding="utf-8") or None


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    _skip_what_is_missing(items)
    if settings.TEST_DATABASE == "postgres":
        _leave_out_what_opens_no_database(config, items)


def _skip_what_is_missing(items: list[pytest.Item]) -> None:
    missing = {
        "postgres": "" if settings.TEST_DATABASE == "postgres" else "needs PostgreSQL; this run is on SQLite",
        "browser": f"needs Chromium: {chromium_trouble()}" if chromium_trouble() else "",
    }
    for item in items:
        for marker, reason in missing.items():
            if reason and item.get_closest_marker(marker):
                item.add_marker(pytest.mark.skip(reason=reason))


def _leave_out_what_opens_no_database(config: pytest.Config, items: list[pytest.Item]) -> None:
    # The run on SQLite has already shown all that these can show.
    opening = [
        item
        for item in items
        if not any(item.get_closest_marker(marker) for marker in ONE_RUN_IS_ENOUGH)
        and (item.get_closest_marker("django_db") or DATABASE_FIXTURES & _fixtures(item))
    ]
    config.hook.pytest_deselected(items=[item for item in items if item not in opening])
    items[:] = opening


def _fixtures(item: pytest.Item) -> set[str]:
    return set(getattr(item, "fixturenames", ()))


@pytest.fixture(autouse=True)
def firm_read_once(request: pytest.FixtureRequest) -> Iterator[None]:
    """Between two writes to it the firm is read once, as within a request: services asked directly say a lot of units.

    Not where other threads write: this connection would not hear of it.
    """
    if {"transactional_db", "live_server"} & _fixtures(request.node) or _commits(request.node):
        yield
        return
    with current.one_reading():
        outermost = current._kept.get()

        def forget_what_is_written(execute, sql, params, many, context):
            if ("company_company" in sql and not sql.startswith("SELECT")) or sql.startswith("ROLLBACK"):
                outermost.clear()
                current.forget()
            return execute(sql, params, many, context)

        with connection.execute_wrapper(forget_what_is_written):
            yield


@pytest.fixture(scope="module")
def furnished_shop(django_db_setup, django_db_blocker) -> Iterator[Staff]:
    """The owner of a firm with a catalogue, set up once for a file of tests and taken away after it."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield the_shop()
        transaction.set_rollback(True)


@pytest.fixture
def shop_owner(furnished_shop: Staff, db) -> Staff:
    return Staff.objects.get(pk=furnished_shop.pk)


def _commits(item: pytest.Item) -> bool:
    marker = item.get_closest_marker("django_db")
    return bool(marker and marker.kwargs.get("transaction"))


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    # Playwright keeps an event loop in this thread; Django would otherwise refuse every query in a browser test.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    # A busy machine is slow, not wrong.
    expect.set_options(timeout=30_000)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=CHROMIUM_ARGUMENTS)
        yield browser
        browser.close()
