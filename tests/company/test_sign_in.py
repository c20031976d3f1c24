import datetime

import pytest
from django.test import Client
from django.utils import timezone

from contractor.company import throttle
from contractor.company.models import LoginAttempt
from tests.people import PASSWORD


def sign_in(browser: Client, login: str = "merrit", password: str = PASSWORD, **more: str):
    return browser.post("/login/", {"login": login, "password": password, **more})


def test_it_lets_in_whoever_knows_the_words(owner):
    browser = Client()
    answer = sign_in(browser, "  Merrit ", next="/company/log/")
    assert (answer.status_code, answer["Location"]) == (303, "/company/log/")
    assert browser.get("/company/log/").status_code == 200


def test_it_says_the_same_of_a_wrong_name_and_a_wrong_password(owner):
    wrong_name = sign_in(Client(), "nobody").content.decode()
    wrong_word = sign_in(Client(), password="wrong").content.decode()
    said = "This login name and password don’t go together."
    assert said in wrong_name and said in wrong_word


@pytest.mark.parametrize("elsewhere", ["https://evil.example/", "//evil.example/x", "javascript:alert(1)"])
def test_it_sends_nobody_to_another_house(owner, elsewhere):
    assert sign_in(Client(), next=elsewhere)["Location"] == "/"


def test_it_keeps_out_whoever_may_no_longer_sign_in(owner, crew):
    crew.active = False
    crew.save()
    assert sign_in(Client(), crew.login).status_code == 422


def test_it_ends_the_sessions_of_whoever_may_no_longer_sign_in(owner, crew):
    browser = Client()
    browser.force_login(crew)
    assert browser.get("/company/password/").status_code == 200
    crew.active = False
    crew.save()
    assert browser.get("/company/password/").status_code == 303


def test_it_slows_down_guessing_and_cools_off_by_itself(owner):
    browser = Client()
    for _ in range(throttle.BY_NAME_AND_ADDRESS.failures):
        assert sign_in(browser, password="guess").status_code == 422
    refused = sign_in(browser)
    assert refused.status_code == 429
    assert "Too many tries. Try again at" in refused.content.decode()
    assert not LoginAttempt.objects.filter(name_digest__contains="merrit").exists()

    later = timezone.now() + throttle.BY_NAME_AND_ADDRESS.within
    assert throttle.wait_before("merrit", "127.0.0.1", now=later) == datetime.timedelta(0)
    LoginAttempt.objects.update(at=timezone.now() - throttle.BY_NAME_AND_ADDRESS.within)
    assert sign_in(browser).status_code == 303


def test_it_never_locks_the_owner_out_from_elsewhere(owner):
    for _ in range(throttle.BY_ADDRESS.failures + 5):
        throttle.note_failure("merrit", "203.0.113.9")
    assert throttle.wait_before("merrit", "203.0.113.9") > datetime.timedelta(0)
    assert throttle.wait_before("merrit", "192.0.2.4") == datetime.timedelta(0)


def test_it_slows_down_one_address_that_tries_many_names(owner):
    for number in range(throttle.BY_ADDRESS.failures):
        throttle.note_failure(f"name{number}", "203.0.113.9")
    assert throttle.wait_before("merrit", "203.0.113.9") > datetime.timedelta(0)


def test_it_forgets_old_tries(owner):
    throttle.note_failure("merrit", "203.0.113.9", now=timezone.now() - datetime.timedelta(days=2))
    throttle.note_failure("merrit", "203.0.113.9")
    assert LoginAttempt.objects.count() == 1


def test_it_counts_by_the_proxys_word_only_behind_one(owner, settings, rf):
    from contractor.company.views.door import client_address

    request = rf.get("/", headers={"X-Forwarded-For": "198.51.100.7, 192.0.2.9"})
    assert client_address(request) == "127.0.0.1"
    settings.SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    assert client_address(request) == "192.0.2.9"


def test_it_signs_out_by_post_only(owner):
    browser = Client()
    browser.force_login(owner)
    assert browser.get("/logout/").status_code == 405
    assert browser.post("/logout/")["Location"] == "/login/"
    assert browser.get("/company/").status_code == 303


def test_it_changes_a_password_and_signs_out_everywhere_else(owner):
    here, there = Client(), Client()
    here.force_login(owner), there.force_login(owner)
    refused = here.post("/company/password/", {"old": "not it", "new": "a new plain sentence"})
    assert refused.status_code == 422 and "not your password now" in refused.content.decode()
    assert here.post("/company/password/", {"old": PASSWORD, "new": "a new plain sentence"}).status_code == 303
    assert here.get("/company/").status_code == 200
    assert there.get("/company/").status_code == 303
