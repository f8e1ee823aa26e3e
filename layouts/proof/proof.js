/* Reloads an open page of the proof when the guide has changed, and keeps its place. */
(function () {
  "use strict";
  var own = document.currentScript;
  var state = own.dataset.state;
  var address = new URL("news", own.src);
  var key = "proof " + location.pathname;
  var news = null;
  // Whether the gaps were unfolded; while the checks run the slip has none to tell it by.
  var unfolded = false;

  // The place is counted from where the content begins: the slip above it may have grown or shrunk.
  function contentTop() {
    var content = document.getElementById("content");
    return content ? content.getBoundingClientRect().top + window.scrollY : 0;
  }

  function isOpen() {
    var details = document.querySelector("#proof details");
    return details ? details.open : unfolded;
  }

  function open(wanted) {
    unfolded = wanted;
    var details = document.querySelector("#proof details");
    if (details && wanted) details.open = true;
  }

  function reload() {
    hush();
    var place = window.scrollY > 0 ? window.scrollY - contentTop() : null;
    sessionStorage.setItem(key, JSON.stringify({ place: place, open: isOpen() }));
    location.reload();
  }

  function takePlace() {
    var kept = JSON.parse(sessionStorage.getItem(key) || "null");
    if (!kept) return;
    sessionStorage.removeItem(key);
    open(kept.open);
    history.scrollRestoration = "manual";
    var moved = false;
    function go() {
      if (!moved) window.scrollTo({ top: kept.place === null ? 0 : contentTop() + kept.place, behavior: "instant" });
    }
    // Lines break elsewhere until the letters are there: the place is taken again then, unless the reader has moved.
    ["wheel", "touchstart", "keydown", "pointerdown"].forEach(function (sign) {
      window.addEventListener(sign, function () { moved = true; }, { once: true, passive: true });
    });
    go();
    document.fonts.ready.then(go);
    window.addEventListener("load", function () {
      go();
      history.scrollRestoration = "auto";
    });
  }

  // What the checks found comes after the page: only the slip is changed then, or a page of problems loaded anew.
  function takeProblems() {
    var slip = document.getElementById("proof");
    if (!slip || !("pending" in slip.dataset)) return;
    if (document.querySelector("main .proof-waiting")) {
      reload();
      return;
    }
    fetch(location.href).then(function (answer) { return answer.text(); }).then(function (text) {
      var fresh = new DOMParser().parseFromString(text, "text/html").getElementById("proof");
      if (!fresh) return;
      var wasOpen = isOpen();
      var before = contentTop() - window.scrollY;
      slip.replaceWith(document.adoptNode(fresh));
      open(wasOpen);
      // Most browsers keep the reader's place by themselves, but not when they have just been scrolled.
      var moved = contentTop() - window.scrollY - before;
      if (window.scrollY > 0 && moved) window.scrollBy({ top: moved, behavior: "instant" });
    });
  }

  function hear(event) {
    if (event.data !== state) reload();
    else if (event.type === "checked") takeProblems();
  }

  // A browser keeps few connections to one host, so a page that nobody sees does without.
  function listen() {
    if (news || document.hidden) return;
    news = new EventSource(address);
    news.addEventListener("state", hear);
    news.addEventListener("checked", hear);
  }

  function hush() {
    if (news) news.close();
    news = null;
  }

  document.addEventListener("visibilitychange", function () { if (document.hidden) hush(); else listen(); });
  window.addEventListener("pagehide", hush);
  window.addEventListener("pageshow", listen);
  takePlace();
  listen();
})();
