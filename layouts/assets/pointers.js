/* Lights the row of the table that a pointer of a plate names, and the pointer that a row is named by. */
(function () {
  "use strict";
  var pairs = document.querySelectorAll(".pointed a[href^='#']");

  function join(link) {
    var row = document.getElementById(link.getAttribute("href").slice(1));
    var pointer = link.closest(".pointer") || link.closest("li");
    if (!row) return;
    [[pointer, row], [row, pointer]].forEach(function (pair) {
      function set(on) { return function () { pair[1].classList.toggle("lit", on); pair[0].classList.toggle("lit", on); }; }
      pair[0].addEventListener("mouseenter", set(true));
      pair[0].addEventListener("mouseleave", set(false));
      // An element of SVG that hears of focus becomes a stop of its own: the link in it is one already.
      var stop = pair[0] === pointer ? link : row;
      stop.addEventListener("focusin", set(true));
      stop.addEventListener("focusout", set(false));
    });
  }

  pairs.forEach(join);
})();
