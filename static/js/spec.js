/* Marks the boxes the machine has something to say about, and takes the mark away when it is put right. */
(function () {
  "use strict";
  document.documentElement.classList.add("js");

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
