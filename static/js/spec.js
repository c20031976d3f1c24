/* Marks the boxes the machine has something to say about, and takes the mark away when it is put right. */
(function () {
  "use strict";
  document.documentElement.classList.add("js");

  /* What is typed while the machine still answers the change before is not overwritten by that answer. */
  var asked = {};
  function boxes(within) { return within.querySelectorAll("input[id], select[id], textarea[id]"); }
  document.addEventListener("htmx:beforeRequest", function () {
    asked = {};
    boxes(document).forEach(function (box) { asked[box.id] = [box.value, box.checked]; });
  });
  document.addEventListener("htmx:oobBeforeSwap", function (event) {
    boxes(event.detail.target).forEach(function (box) {
      var then = asked[box.id];
      if (!then || (then[0] === box.value && then[1] === box.checked)) return;
      var next = event.detail.fragment.querySelector("#" + CSS.escape(box.id));
      if (!next || next.type === "hidden") return;
      next.value = box.value;
      next.checked = box.checked;
    });
  });

  document.addEventListener("htmx:afterSettle", function () {
    document.querySelectorAll(".fault").forEach(function (slot) {
      var field = slot.closest(".field");
      if (!field) return;
      var wrong = slot.textContent.trim() !== "";
      var box = field.querySelector("input, select, textarea");
      field.classList.toggle("bad", wrong);
      if (!box) return;
      if (wrong) box.setAttribute("aria-invalid", "true");
      else box.removeAttribute("aria-invalid");
    });
  });
})();
