/* One person more or fewer: the box says so at once, the dock follows when the pressing stops. */
(function () {
  "use strict";
  document.addEventListener("click", function (event) {
    var button = event.target.closest("button[name='crowd-step']");
    var box = button && document.getElementById("crowd-people");
    if (!box || !window.htmx) return;
    event.preventDefault();
    var people = parseInt(box.value, 10);
    box.value = Math.max(0, (isNaN(people) ? 0 : people) + Number(button.value));
    box.dispatchEvent(new Event("change", { bubbles: true }));
  });
})();
