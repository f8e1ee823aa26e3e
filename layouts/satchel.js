/* Carries the guide along: keeps its files on the reader's device, so that it opens without a signal.
   Every file is kept under its address and its digest. So a new edition fetches what has changed alone, the old
   one stays whole until the new one is, and what was begun and broken off is gone on with. */
"use strict";
var LIST = "satchel.json", DIGEST = "DIGEST-OF-THE-LIST", PICTURES = "pictures/", NOT_FOUND = "404.html";
var AT_ONCE = 4, TOLD_EVERY = 10, LOOKS = 4, PAUSE = 250;

var root = new URL(self.registration.scope).pathname;
var store = "guide kept at " + root;
var known = null;

function address(path) {
  return root + path.split("/").map(encodeURIComponent).join("/");
}

function key(path, digest) {
  return address(path) + "?kept=" + digest;
}

function kept(path, digest) {
  return caches.match(key(path, digest), { cacheName: store });
}

/* What tells the widths of one picture from each other is the end of their names. */
function widthless(path) {
  return path.replace(/-[^-]*$/, "");
}

/* This edition: digests by path, the kept width of each picture, and how much it is. */
function edition() {
  known = known || kept(LIST, DIGEST).then(function (answer) { return answer.json(); }).then(function (files) {
    var found = { digests: {}, widths: {}, pages: 0, bytes: 0 };
    files.forEach(function (file) {
      found.digests[file[0]] = file[1];
      found.bytes += file[2];
      if (/\.html$/.test(file[0])) found.pages += 1;
      if (file[0].indexOf(PICTURES) === 0) found.widths[widthless(file[0])] = file[0];
    });
    return found;
  });
  known.catch(function () { known = null; });
  return known;
}

function hex(buffer) {
  return Array.from(new Uint8Array(buffer), function (byte) { return ("0" + byte.toString(16)).slice(-2); }).join("");
}

/* Fetch a file and keep it, if it is what the list says: a host may be in the middle of being renewed. */
function bring(cache, path, digest) {
  return fetch(address(path), { cache: "no-cache" }).then(function (answer) {
    if (!answer.ok) throw new Error(path + " is not there");
    return answer.arrayBuffer().then(function (bytes) {
      return crypto.subtle.digest("SHA-256", bytes).then(function (sum) {
        if (hex(sum).indexOf(digest) !== 0) throw new Error(path + " is of another edition");
        // A new answer, because one that was led elsewhere may not stand for a page.
        var kind = answer.headers.get("Content-Type") || "application/octet-stream";
        return cache.put(key(path, digest), new Response(bytes, { headers: { "Content-Type": kind } }));
      });
    });
  });
}

function tell(message) {
  return self.clients.matchAll({ includeUncontrolled: true, type: "window" }).then(function (pages) {
    pages.forEach(function (page) { page.postMessage(message); });
  });
}

function keep() {
  return caches.open(store).then(function (cache) {
    function have(path, digest) {
      return cache.match(key(path, digest)).then(function (found) { return found || bring(cache, path, digest); });
    }
    return have(LIST, DIGEST).then(edition).then(function (all) {
      var paths = Object.keys(all.digests), files = paths.length, done = 0, lines = [];
      function next() {
        var path = paths.shift();
        return path === undefined ? undefined : have(path, all.digests[path]).then(function () {
          done += 1;
          if (done % TOLD_EVERY === 0) tell({ coming: true, done: done, files: files });
          return next();
        });
      }
      while (lines.length < AT_ONCE) lines.push(next());
      return Promise.all(lines);
    });
  }).catch(function (fault) {
    return tell({ failed: fault.name === "QuotaExceededError" ? "notRoom" : "notFetched" }).then(function () {
      throw fault;
    });
  });
}

/* Drop what is kept of other editions. */
function drop() {
  return Promise.all([caches.open(store), edition()]).then(function (both) {
    var wanted = {};
    wanted[key(LIST, DIGEST)] = true;
    Object.keys(both[1].digests).forEach(function (path) { wanted[key(path, both[1].digests[path])] = true; });
    return both[0].keys().then(function (requests) {
      return Promise.all(requests.map(function (request) {
        var of = new URL(request.url);
        return wanted[of.pathname + of.search] || both[0].delete(request);
      }));
    });
  });
}

/* The page that asks was just opened: while it is the only one, nothing of the old edition is in use. That which it
   came in place of may take a moment to go. */
function takeOver(looks) {
  return self.clients.matchAll({ includeUncontrolled: true, type: "window" }).then(function (pages) {
    var open = pages.filter(function (page) { return new URL(page.url).pathname.indexOf(root) === 0; });
    if (open.length < 2) return self.skipWaiting();
    return looks < 2 ? undefined : new Promise(function (done) { setTimeout(done, PAUSE); }).then(function () {
      return takeOver(looks - 1);
    });
  });
}

function answer(request, inside) {
  return edition().then(function (all) {
    function of(path) { return path in all.digests ? kept(path, all.digests[path]) : Promise.resolve(undefined); }
    // Hosts show a folder by its front page, and some leave out the ending.
    var path = [inside, inside + "index.html", inside + ".html"].find(function (each) { return each in all.digests; });
    return of(path).then(function (found) {
      return found || fetch(request).catch(function (fault) {
        return of(all.widths[widthless(inside)]).then(function (other) {
          if (other || request.mode !== "navigate") return other || Promise.reject(fault);
          return of(NOT_FOUND).then(function (none) {
            return new Response(none.body, { status: 404, headers: none.headers });
          });
        });
      });
    });
  }, function () { return fetch(request); });
}

self.addEventListener("install", function (event) { event.waitUntil(keep()); });

self.addEventListener("activate", function (event) {
  event.waitUntil(drop().then(function () { return self.clients.claim(); }));
});

self.addEventListener("fetch", function (event) {
  var asked = new URL(event.request.url), inside;
  if (asked.origin !== location.origin || asked.pathname.indexOf(root) !== 0 || event.request.method !== "GET") return;
  try {
    inside = decodeURIComponent(asked.pathname.slice(root.length));
  } catch (_) {
    return;
  }
  event.respondWith(answer(event.request, inside));
});

self.addEventListener("message", function (event) {
  if (event.data === "what is kept") {
    // The reader, or the browser, may have thrown it away meanwhile.
    event.waitUntil(kept(LIST, DIGEST).then(function (found) { return found || keep(); }).then(edition).then(function (all) {
      event.source.postMessage({ kept: true, pages: all.pages, bytes: all.bytes });
    }));
  }
  if (event.data === "take over") {
    event.waitUntil(takeOver(LOOKS));
  }
});
