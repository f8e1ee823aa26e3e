/* The key / leads to the field to look for things, from every page; not while something is typed, and not where
   the reader has switched it off on the page to find things, or could not (WCAG 2.1.4). */
(function () {
  "use strict";
  var page = document.currentScript.dataset.find;

  function isOff() {
    try { return localStorage.getItem("tertial key") === "off"; } catch (fault) { return true; }
  }

  function isTyping(at) {
    return at.isContentEditable || at.matches("select, textarea, input:not([type=checkbox]):not([type=radio])");
  }

  document.addEventListener("keydown", function (event) {
    if (event.key !== "/" || event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    if (event.defaultPrevented || isTyping(event.target) || isOff()) return;
    event.preventDefault();
    var field = document.getElementById("sought");
    if (field) field.focus(); else location.href = page + "#sought";
  });
})();
