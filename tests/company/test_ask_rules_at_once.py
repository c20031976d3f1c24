import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.test.utils import CaptureQueriesContext

from contractor.company.models import Company
from tests.people import the_firm


def said(firm: Company) -> set[str]:
    with pytest.raises(ValidationError) as refused:
        firm.validate_constraints()
    return set(refused.value.messages)


def test_it_asks_the_database_one_question_when_every_rule_holds(db):
    firm = the_firm()
    with CaptureQueriesContext(connection) as asked:
        firm.validate_constraints()
    assert sum("SELECT" in query["sql"] for query in asked) == 1


def test_it_says_each_rule_that_is_broken_and_no_other(db):
    firm = the_firm()
    firm.live_load_psf = 0
    one = said(firm)
    firm.name = ""
    assert len(one) == 1
    assert said(firm) == one | {"Name the firm."}


def test_it_passes_over_a_rule_about_a_box_that_is_not_on_the_page(db):
    firm = the_firm()
    firm.name = ""
    firm.validate_constraints(exclude={"name"})
    assert "Name the firm." in said(firm)
