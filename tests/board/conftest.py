import pytest

from tests.quotes.conftest import no_press  # noqa: F401


@pytest.fixture
def no_order_paper(monkeypatch) -> None:
    """Orders go out without their PDF: it takes most of the time, and the home page says nothing of it."""
    monkeypatch.setattr("jobs.supply.documents.order_paper.render_pdf", lambda *_, **__: b"%PDF")
