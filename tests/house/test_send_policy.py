from collections.abc import Callable

import pytest
from django.http import HttpRequest, HttpResponse

from contractor.csp import UPLOAD_POLICY, ContentSecurityPolicy


@pytest.fixture
def policy_of(rf) -> Callable[[HttpResponse], dict[str, str]]:
    def sent(response: HttpResponse) -> dict[str, str]:
        answer = ContentSecurityPolicy(lambda request: response)(rf.get("/"))
        parts = (part.strip().split(" ", 1) for part in answer.headers["Content-Security-Policy"].split(";"))
        return {name: value for name, value in ((part[0], "".join(part[1:])) for part in parts)}

    return sent


def test_it_lets_a_page_load_only_what_we_serve(policy_of):
    policy = policy_of(HttpResponse("page"))
    assert policy["default-src"] == "'self'"
    assert policy["img-src"] == "'self' data:"
    assert policy["object-src"] == policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert policy["form-action"] == "'self'"
    assert not any("unsafe" in value for value in policy.values())


def test_it_leaves_a_stricter_policy_alone(policy_of):
    assert "sandbox" in policy_of(HttpResponse("photo", headers={"Content-Security-Policy": UPLOAD_POLICY}))


def test_it_is_on_every_page(settings):
    assert "contractor.csp.ContentSecurityPolicy" in settings.MIDDLEWARE


def test_it_passes_the_request_through(rf):
    seen: list[HttpRequest] = []

    def view(request: HttpRequest) -> HttpResponse:
        seen.append(request)
        return HttpResponse(status=404)

    request = rf.get("/nowhere")
    assert ContentSecurityPolicy(view)(request).status_code == 404
    assert seen == [request]
