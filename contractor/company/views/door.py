"""Coming in and going out."""

from django.conf import settings
from django.contrib.auth import authenticate, login, logout, update_session_auth_hash
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.urls import NoReverseMatch, reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from contractor.company import current, services, throttle
from contractor.company.access import public, signed_in, way_back
from contractor.company.forms import LoginForm, PasswordForm, WelcomeForm
from contractor.htmx import fragment, go

BACKEND = "django.contrib.auth.backends.ModelBackend"


@public
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def welcome(request: HttpRequest) -> HttpResponse:
    if current.firm() is not None:
        return go(request, "company:login")
    form = WelcomeForm(request.POST or None)
    if not form.is_valid():
        return fragment(request, "company/welcome.html", {"form": form}, status=422 if form.is_bound else 200)
    try:
        person = services.set_up_firm(**form.firm())
    except services.FirmAlreadyNamed:
        return go(request, "company:login")
    except ValidationError as refused:
        form.blame(refused)
        return fragment(request, "company/welcome.html", {"form": form}, status=422)
    login(request, person, backend=BACKEND)
    return go(request, _first_page())


@public
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    if current.firm() is None:
        return go(request, "company:welcome")
    if request.staff:
        return go(request, way_back(request, "/"))
    form = LoginForm(request.POST or None)
    context = {"form": form, "next": way_back(request, "")}
    if not form.is_valid():
        return fragment(request, "company/login.html", context, status=422 if form.is_bound else 200)
    name, address = form.cleaned_data["login"], client_address(request)
    if wait := throttle.wait_before(name, address):
        form.add_error(None, f"Too many tries. Try again at {timezone.localtime(timezone.now() + wait):%H:%M}.")
        return fragment(request, "company/login.html", context, status=429)
    person = authenticate(request, username=name, password=form.cleaned_data["password"])
    if person is None:
        throttle.note_failure(name, address)
        form.add_error(None, "This login name and password don’t go together. Check both and try again.")
        return fragment(request, "company/login.html", context, status=422)
    throttle.note_success(name, address)
    login(request, person)
    return go(request, way_back(request, "/"))


@public
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    return go(request, "company:login")


@signed_in
@sensitive_post_parameters("old", "new")
@require_http_methods(["GET", "POST"])
def own_password(request: HttpRequest) -> HttpResponse:
    form = PasswordForm(request.POST or None, person=request.staff)
    if not form.is_valid():
        return fragment(request, "company/password.html", {"form": form}, status=422 if form.is_bound else 200)
    services.change_password(request.staff, password=form.cleaned_data["new"], by=request.staff)
    update_session_auth_hash(request, request.staff)
    return go(request, "company:password_changed")


@signed_in
@require_GET
def password_changed(request: HttpRequest) -> HttpResponse:
    return fragment(request, "company/password_changed.html")


def client_address(request: HttpRequest) -> str:
    """The address the request came from; behind the firm's own proxy, the last one the proxy added."""
    forwarded = request.headers.get("X-Forwarded-For", "") if settings.SECURE_PROXY_SSL_HEADER else ""
    return (forwarded.rpartition(",")[2].strip() or request.META.get("REMOTE_ADDR", ""))[:45]


def _first_page() -> str:
    try:
        return reverse(settings.AFTER_WELCOME_URL)
    except NoReverseMatch:
        return reverse("company:profile")
