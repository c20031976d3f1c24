from django.urls import include, path

from jobs.records.views import clients, enquiry, finding, gauges, jobs, permits, revisions, sheet, sites, water

app_name = "records"
urlpatterns = [
    path("find/", finding.find, name="find"),
    path("jobs/", jobs.jobs, name="jobs"),
    path("jobs/new/", enquiry.new, name="new"),
    path("jobs/new/known-<slug:what>/", enquiry.known, name="known"),
    path("jobs/<str:number>/", jobs.job, name="job"),
    path("jobs/<str:number>/edit/", jobs.edit, name="edit"),
    path("jobs/<str:number>/call/", jobs.log_call, name="log_call"),
    path("jobs/<str:number>/copy/", jobs.copy, name="copy"),
    path("jobs/<str:number>/end/", jobs.end, name="end"),
    path("jobs/<str:number>/open-again/", jobs.reopen, name="reopen"),
    path("jobs/<str:number>/permits/new/", permits.add, name="add_permit"),
    path("jobs/<str:number>/permits/<int:permit_id>/", permits.permit, name="permit"),
    path("jobs/<str:number>/permits/<int:permit_id>/paper/", permits.paper, name="permit_paper"),
    path("jobs/<str:number>/specs/start/", revisions.start, name="start_spec"),
    path("jobs/<str:number>/specs/read-file/", revisions.read_file, name="read_spec_file"),
    path("jobs/<str:number>/specs/compare/", revisions.compare, name="compare_specs"),
    path("jobs/<str:number>/specs/<str:letter>/next/", revisions.carry_on, name="next_revision"),
    path("jobs/<str:number>/specs/<str:letter>/copy/", revisions.copy, name="copy_spec"),
    path("jobs/<str:number>/specs/<str:letter>/file/", revisions.save_file, name="spec_file"),
    path("jobs/<str:number>/spec/", include("jobs.records.spec_urls")),
    path("jobs/<str:number>/site-sheet/", sheet.site_sheet, name="site_sheet"),
    path("jobs/<str:number>/site-sheet.pdf", sheet.site_sheet_pdf, name="site_sheet_pdf"),
    path("site-sheet.pdf", sheet.blank_sheet_pdf, name="blank_sheet_pdf"),
    path("clients/<int:client_id>/", clients.client, name="client"),
    path("sites/<int:site_id>/", sites.site, name="site"),
    path("sites/<int:site_id>/water/", water.water, name="water"),
    path("sites/<int:site_id>/water/on/", gauges.level_on, name="level_on"),
    path("sites/<int:site_id>/gauges/read-file/", gauges.read_gauge, name="read_gauge"),
    path("sites/<int:site_id>/gauges/<int:gauge_id>/", gauges.gauge, name="gauge"),
    path("sites/<int:site_id>/gauges/<int:gauge_id>/take-over/", gauges.take_over, name="take_over_levels"),
    path("sites/<int:site_id>/gauges/<int:gauge_id>/strike-out/", gauges.strike_out_gauge, name="strike_out_gauge"),
    path("sites/<int:site_id>/water/readings/<int:reading_id>/strike-out/", water.strike_out, name="strike_out"),
]
