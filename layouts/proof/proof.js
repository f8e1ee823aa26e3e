/* Reloads an open page of the proof when the guide has changed, and keeps its place; tells spots of sketches. */
(function () {
  "use strict";
  var own = document.currentScript;
  var state = own.dataset.state;
  var address = new URL("news", own.src);
  var key = "proof " + location.pathname;
  var slip = document.getElementById("proof");
  var wantsPictures = Boolean(slip) && "developing" in slip.dataset;
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

  // Lines above may have come or gone too, so what is in sight is looked for again by its words. What is not shown
  // has no place: the list of what a sketch points out is hidden where its margins hold the words.
  function blocks() {
    var all = document.querySelectorAll("#content :is(p, li, tr, h2, h3, figcaption)");
    return Array.prototype.filter.call(all, function (each) {
      return each.textContent.trim() && each.getBoundingClientRect().height > 0;
    });
  }

  function inSight() {
    return blocks().map(function (each) {
      return { words: each.textContent, top: each.getBoundingClientRect().top };
    }).filter(function (each) { return each.top >= 0 && each.top < window.innerHeight; });
  }

  // The first that stands there as before, and once: the line in sight may be the very one that was changed.
  function wanted(kept) {
    if (kept.place === null) return 0;
    var tops = new Map();
    blocks().forEach(function (each) {
      tops.set(each.textContent, tops.has(each.textContent) ? null : each.getBoundingClientRect().top);
    });
    var same = kept.seen.filter(function (each) { return typeof tops.get(each.words) === "number"; })[0];
    return same ? tops.get(same.words) + window.scrollY - same.top : contentTop() + kept.place;
  }

  function reload() {
    hush();
    var place = window.scrollY > 0 ? window.scrollY - contentTop() : null;
    sessionStorage.setItem(key, JSON.stringify({ place: place, seen: inSight(), open: isOpen() }));
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
      if (!moved) window.scrollTo({ top: wanted(kept), behavior: "instant" });
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
    slip = document.getElementById("proof");
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

  function hearPictures(event) {
    if (wantsPictures && Number(event.data) > Number(own.dataset.pictures)) reload();
  }

  // A browser keeps few connections to one host, so a page that nobody sees does without.
  function listen() {
    if (news || document.hidden) return;
    news = new EventSource(address);
    news.addEventListener("state", hear);
    news.addEventListener("checked", hear);
    news.addEventListener("pictures", hearPictures);
  }

  function hush() {
    if (news) news.close();
    news = null;
  }

  // A click on a sketch offers the line of a pointer there, in pixels of the author's own file. With the keyboard,
  // or with a key held down, the picture opens as in the finished guide.
  function takeSpot(event) {
    var link = event.target.closest(".plate > a, .pointed-frame > a");
    if (!link || !event.detail || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    var picture = link.querySelector("img");
    var box = picture.getBoundingClientRect();
    var x = event.clientX - box.left;
    var y = event.clientY - box.top;
    event.preventDefault();
    fetch(new URL("pictures.json", own.src)).then(function (answer) { return answer.json(); }).then(function (ways) {
      var name = link.href.slice(link.href.lastIndexOf("/pictures/") + 1);
      var way = ways[name];
      if (!way) return;
      // A tall picture is shown within its box, in the middle of it.
      var ratio = picture.getAttribute("height") / picture.getAttribute("width");
      var shown = Math.min(box.width, box.height / ratio);
      var zoom = way.width / shown;
      var px = (x - (box.width - shown) / 2) * zoom;
      var py = (y - (box.height - shown * ratio) / 2) * zoom;
      var m = way.map;
      offer(link, Math.round(m[0] * px + m[1] * py + m[2]), Math.round(m[3] * px + m[4] * py + m[5]));
    });
  }

  function offer(link, x, y) {
    var figure = link.closest("figure");
    var slip = figure.querySelector(".proof-spot");
    if (!slip) {
      slip = document.createElement("p");
      slip.className = "proof-spot";
      slip.append(document.createElement("code"), " ", document.createElement("select"));
      slip.lastChild.setAttribute("aria-label", "What is to be seen there");
      var named = new Set();
      document.querySelectorAll(".marks th[scope=row]").forEach(function (row) { named.add(row.textContent.trim()); });
      named.forEach(function (part) { slip.lastChild.add(new Option(part)); });
      if (!named.size) slip.lastChild.add(new Option("bill"));
      slip.lastChild.addEventListener("change", write);
      figure.append(slip);
    }
    slip.dataset.spot = x + "," + y;
    write();
    function write() {
      var line = "- " + slip.dataset.spot + " " + slip.lastChild.value;
      slip.firstChild.textContent = line;
      if (navigator.clipboard) navigator.clipboard.writeText(line).catch(function () {});
    }
  }

  document.addEventListener("click", takeSpot);
  document.addEventListener("visibilitychange", function () { if (document.hidden) hush(); else listen(); });
  window.addEventListener("pagehide", hush);
  window.addEventListener("pageshow", listen);
  takePlace();
  listen();
})();
