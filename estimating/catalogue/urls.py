from django.urls import path

from estimating.catalogue.views import imports, items, prices, rules, start, suppliers

app_name = "catalogue"
urlpatterns = [
    path("", items.items, name="items"),
    path("start/", start.start, name="start"),
    path("new/", items.choose_kind, name="choose_kind"),
    path("new/<slug:kind>/", items.new_item, name="new_item"),
    path("retired/", items.retired, name="retired"),
    path("<int:item_id>/", items.item, name="item"),
    path("<int:item_id>/edit/", items.edit_item, name="edit_item"),
    path("<int:item_id>/retire/", items.retire_item, name="retire_item"),
    path("<int:item_id>/reinstate/", items.reinstate_item, name="reinstate_item"),
    path("<int:item_id>/prices/", prices.add_price, name="add_price"),
    path("prices/<int:price_id>/strike/", prices.strike_price, name="strike_price"),
    path("suppliers/", suppliers.suppliers, name="suppliers"),
    path("suppliers/new/", suppliers.new_supplier, name="new_supplier"),
    path("suppliers/<int:supplier_id>/", suppliers.supplier, name="supplier"),
    path("suppliers/<int:supplier_id>/aside/", suppliers.put_aside, name="put_aside"),
    path("joints/", rules.joints, name="joints"),
    path("joints/new/", rules.new_rule, name="new_rule"),
    path("joints/<int:rule_id>/", rules.rule, name="rule"),
    path("joints/<int:rule_id>/drop/", rules.drop_rule, name="drop_rule"),
    path("standing/", rules.standing, name="standing"),
    path("labour/", rules.labour, name="labour"),
    path("files/", imports.imports, name="imports"),
    path("files/<int:import_id>/", imports.preview, name="import"),
    path("files/<int:import_id>/take-in/", imports.take_in, name="take_in"),
    path("files/<int:import_id>/drop/", imports.drop, name="drop_import"),
    path("files/template.<slug:ending>", imports.template, name="template"),
    path("files/catalogue.<slug:ending>", imports.export, name="export"),
]
