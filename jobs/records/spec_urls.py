from django.urls import path, re_path

from jobs.records.views import papers, spec

urlpatterns = [
    path("", spec.now, name="spec_now"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/$", spec.spec, name="spec"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/look/$", spec.preview, name="spec_preview"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/put-right/$", spec.put_right, name="spec_put_right"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/lay-out-floats/$", spec.lay_out_floats, name="spec_lay_out_floats"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/keep-check/(?P<check>[0-9a-f]{10})/$", spec.keep_check, name="spec_keep_check"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/drawing\.pdf$", spec.drawing, name="spec_drawing"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/drawing\.dxf$", papers.dxf, name="spec_dxf"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/permit-sketches\.pdf$", papers.permit_set, name="permit_set"),
    re_path(r"^(?P<letter>[A-Z]{1,3})/anchors\.pdf$", papers.anchor_day, name="anchor_day"),
]
