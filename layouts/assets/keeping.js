/* Has the guide kept on the reader's device, where it comes from a web host, and says so at the foot of the page.
   The keeping itself is for satchel.js. From a disk nothing is attempted: there the guide is kept already. */
(function () {
  "use strict";
  var note = document.querySelector(".keeping"), worker = navigator.serviceWorker;
  if (!/^https?:$/.test(location.protocol) || !window.isSecureContext || !worker || !window.caches) return;

  var root = new URL(note.dataset.root || "./", document.baseURI).pathname;
  var store = "guide kept at " + root, refused = "guide not to be kept at " + root;
  var words = note.querySelector("[aria-live]"), count = note.querySelector(".count");
  var keepIt = note.querySelector("[data-do=keep]"), removeIt = note.querySelector("[data-do=remove]");

  function filled(name, values) {
    return note.dataset[name].replace(/\{(\w+)\}/g, function (_, word) {
      return values[word].toLocaleString(document.documentElement.lang, { maximumFractionDigits: 1 });
    });
  }

  function say(name, values) {
    words.textContent = filled(name, values);
    count.textContent = "";
    keepIt.hidden = name.indexOf("not") !== 0;
    removeIt.hidden = name !== "kept";
    note.hidden = false;
  }

  /* A window that remembers nothing refuses to be asked. */
  function isRefused(choice) {
    try {
      if (choice === true) localStorage.setItem(refused, "yes");
      if (choice === false) localStorage.removeItem(refused);
      return localStorage.getItem(refused) === "yes";
    } catch (_) {
      return false;
    }
  }

  function keep() {
    return worker.register(root + note.dataset.worker, { updateViaCache: "none" }).then(function (registration) {
      if (registration.active) {
        registration.active.postMessage("what is kept");
      } else {
        say("begun");
        worker.ready.then(function (ready) { ready.active.postMessage("what is kept"); });
      }
      if (registration.waiting) {
        worker.addEventListener("controllerchange", function () { location.reload(); });
        registration.waiting.postMessage("take over");
      }
    }, function () { say("notFetched"); });
  }

  function remove() {
    isRefused(true);
    return worker.getRegistration(root).then(function (registration) {
      return registration && new URL(registration.scope).pathname === root && registration.unregister();
    }).then(function () { return caches.delete(store); }).then(function () { say("notAsked"); });
  }

  worker.addEventListener("message", function (event) {
    var told = event.data;
    if (told.kept) say("kept", { pages: told.pages, size: told.bytes / 1e6 });
    // Of a new edition nothing is told before it is there: the old one is kept.
    if (worker.controller) return;
    if (told.coming) count.textContent = filled("coming", told);
    if (told.failed) say(told.failed);
  });
  worker.startMessages();

  keepIt.addEventListener("click", function () { isRefused(false); keep(); });
  removeIt.addEventListener("click", function () { remove().then(function () { keepIt.focus(); }); });

  // A manifest would be asked for from a disk too, and refused there.
  var link = document.createElement("link");
  link.rel = "manifest";
  link.href = root + note.dataset.manifest;
  document.head.appendChild(link);

  if (isRefused()) say("notAsked");
  else if (navigator.connection && navigator.connection.saveData && !worker.controller) say("notSaving");
  else keep();
})();
