from django.urls import path

from contractor.company.views import door, firm, people

app_name = "company"
urlpatterns = [
    path("welcome/", door.welcome, name="welcome"),
    path("login/", door.sign_in, name="login"),
    path("logout/", door.sign_out, name="logout"),
    path("company/", firm.profile, name="profile"),
    path("company/payments/", firm.save_payments, name="payments"),
    path("company/load-cases/", firm.save_cases, name="cases"),
    path("company/tax-rates/", firm.add_rate, name="add_rate"),
    path("company/tax-rates/<int:rate_id>/remove/", firm.remove_rate, name="remove_rate"),
    path("company/logo.png", firm.logo, name="logo"),
    path("company/echo/", firm.echo, name="echo"),
    path("company/staff/", people.staff, name="staff"),
    path("company/staff/hire/", people.hire, name="hire"),
    path("company/staff/<int:person_id>/", people.person, name="person"),
    path("company/staff/<int:person_id>/password/", people.new_password, name="new_password"),
    path("company/log/", people.log, name="log"),
    path("company/password/", door.own_password, name="password"),
    path("company/password/changed/", door.password_changed, name="password_changed"),
    path("company/block/<slug:name>/", firm.save_block, name="save_block"),
]
