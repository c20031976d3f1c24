import pytest

from contractor.company.models import Staff
from tests.quotes.conftest import no_press, quick_press  # noqa: F401
from tests.quotes.making import the_shop


@pytest.fixture
def owner(db) -> Staff:
    """The owner of a firm with a catalogue."""
    return the_shop()
