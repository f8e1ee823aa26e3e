/* The page that sets birds of the reader's choice side by side. The address names them, so that a comparison
   can be sent and kept: #DOWO.male+HAWO.male. Choosing changes the address, and the address makes the table. */
"use strict";

(() => {
  const MOST = 4;
  const picking = document.getElementById("picking");
  const told = document.getElementById("told");
  const compared = document.getElementById("compared");
  const { say } = guide;
  const labels = ["First bird", "Second bird", "Third bird", "Fourth bird"].map((each) => say(each));
  const words = guide.kept.get("phrases");
  const marks = guide.kept.get("marks");
  const selects = [document.getElementById("bird-1")];
  const options = new Map([...selects[0].options].filter((each) => each.value).map((each) => [each.value, each]));
  let asked = 0;

  function make(name, attributes, ...children) {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    made.append(...children);
    return made;
  }

  function setUp() {
    const first = selects[0].closest("p");
    for (let i = 1; i < MOST; i++) {
      const line = first.cloneNode(true);
      const [label, select] = [line.querySelector("label"), line.querySelector("select")];
      select.id = `bird-${i + 1}`;
      label.htmlFor = select.id;
      label.textContent = labels[i];
      first.parentNode.append(line);
      selects.push(select);
    }
    for (const select of selects) select.addEventListener("change", choose);
    addWays();
    picking.hidden = false;
  }

  // Groups that fit on the page get a way to it; it would lead nowhere without a script.
  function addWays() {
    for (const group of document.querySelectorAll("li[data-codes]")) {
      const codes = group.dataset.codes.split("+");
      if (codes.length < 2 || codes.length > MOST) continue;
      const way = make("a", { href: `#${group.dataset.codes}` }, say("set side by side"));
      way.addEventListener("click", () => picking.scrollIntoView());
      group.append(" ", way);
    }
  }

  function choose() {
    location.hash = selects.map((each) => each.value).filter(Boolean).map(encodeURIComponent).join("+");
  }

  // Names in the address; a code alone stands for what holds in any plumage.
  function wanted() {
    const names = location.hash.slice(1).split("+").filter(Boolean).map(decoded);
    const whole = names.map((name) => (name.includes(".") ? name : `${name}.all`));
    const unknown = names.filter((name, i) => !options.has(whole[i]));
    return { values: whole.filter((value) => options.has(value)).slice(0, MOST), unknown };
  }

  function decoded(text) {
    try {
      return decodeURIComponent(text);
    } catch {
      return text;
    }
  }

  function load(group) {
    if (guide.kept.has(group.dataset.code)) return Promise.resolve();
    return new Promise((resolve, reject) => {
      const script = make("script", { src: group.dataset.data });
      script.onload = resolve;
      script.onerror = () => reject(new Error(group.label));
      document.head.append(script);
    });
  }

  async function show() {
    const turn = ++asked;
    const { values, unknown } = wanted();
    selects.forEach((select, i) => { select.value = values[i] || ""; });
    const lacks = unknown.length ? `${say("The guide has no %(names)s.", { names: unknown.join(", ") })} ` : "";
    const groups = values.map((value) => options.get(value).parentNode);
    let failed = "";
    await Promise.all(groups.map(load)).catch((fault) => { failed = `${say("What the guide says of %(bird)s is missing.", { bird: fault.message })} `; });
    if (turn !== asked) return;
    if (failed || values.length < 2) {
      told.textContent = `${lacks}${failed}${failed ? "" : say("Choose two birds or more.")}`;
      compared.replaceChildren();
      return;
    }
    const birds = values.map((value, i) => {
      const place = [...groups[i].children].indexOf(options.get(value));
      return { ...guide.bird(groups[i].dataset.code, place), species: groups[i].label, lang: groups[i].lang };
    });
    const { parts, measures } = guide.compare(birds);
    told.replaceChildren(lacks, ...counted(parts));
    compared.replaceChildren(table(say("What separates them"), say("Part"), parts, birds, inTheirs));
    if (measures.length) compared.append(table(say("Measures"), say("Measure"), measures, birds, (text) => text));
    const page = readyPage(groups.map((each) => each.dataset.code));
    if (page) told.append(" ", page);
  }

  function counted(rows) {
    const numbers = marks.verdicts.map((verdict, i) => [rows.filter((row) => row.verdict === i).length, verdict]);
    const found = numbers.filter(([number]) => number)
      .flatMap(([number, verdict], i) => [i ? ", " : "", `${number} `, explained(verdict)]);
    return [`${guide.count("%(num)s part", "%(num)s parts", rows.length)}${say(":")} `, ...found, "."];
  }

  function readyPage(codes) {
    const ways = [...document.querySelectorAll("a[data-codes]")];
    const way = ways.find((each) => [codes.join("+"), [...codes].reverse().join("+")].includes(each.dataset.codes));
    return way && make("a", { href: way.getAttribute("href") }, ...guide.told("The page of %(birds)s.", { birds: [...way.cloneNode(true).childNodes] }));
  }

  /* The roles are said outright, because on narrow screens rows are no longer laid out as rows. What is said of a
     part is the author's, and so is a part that the guide does not explain; measures are told as the page tells them. */
  function table(caption, first, rows, birds, quoted) {
    const heads = [first, ...birds.map(label), birds.length > 2 ? say("Which it separates") : say("Verdict")];
    const cells = heads.map((each) => make("th", { scope: "col", role: "columnheader" }, each));
    const body = rows.map((row) => line(row, birds, quoted));
    return make("table", { class: `compared any-birds of-${birds.length}`, role: "table" },
      make("caption", {}, caption),
      make("thead", { role: "rowgroup" }, make("tr", { role: "row" }, ...cells)),
      make("tbody", { role: "rowgroup" }, ...body));
  }

  function label(bird) {
    const code = make("span", { class: "code", title: bird.species, ...(bird.lang ? { lang: bird.lang } : {}) }, bird.code);
    const plumage = bird.name === words.all ? [] : [" ", make("span", { class: "shows" }, bird.name)];
    return make("span", {}, code, ...plumage);
  }

  function line(row, birds, quoted) {
    const word = row.address ? make("a", { href: picking.dataset.root + row.address }, row.word) : quoted(row.word);
    const said = row.said.map((phrases, i) => make("td", { role: "cell", class: "said" },
      make("span", { class: "whose", "aria-hidden": "true" }, label(birds[i])), ...spoken(phrases, birds[i], quoted)));
    return make("tr", { role: "row" }, make("th", { scope: "row", role: "rowheader" }, word), ...said,
      make("td", { role: "cell", class: "worth" }, ...worth(row, birds)));
  }

  function spoken(phrases, bird, quoted) {
    if (!phrases.length) return [make("span", { class: "nothing" }, say("not recorded"))];
    return phrases.flatMap(([text, origin], i) => [
      i ? `${say(";")} ` : "", quoted(text), ...(origin === bird.name ? [] : [" ", make("span", { class: "origin" }, say("from %(plumage)s", { plumage: origin }))]),
    ]);
  }

  // What an author wrote is marked where it is in another language than the page.
  function inTheirs(text) {
    return words["written in"] ? make("span", { lang: words["written in"] }, text) : text;
  }

  // Of more than two birds only the pairs that the part separates are named, those of one verdict together.
  function worth(row, birds) {
    if (birds.length === 2) return [valued(row.pairs[0])];
    const telling = row.pairs.filter((pair) => pair.value);
    if (!telling.length) return [verdictWord(row.verdict)];
    const verdicts = [...new Set(telling.map((pair) => pair.verdict))].sort((a, b) => a - b);
    return verdicts.map((verdict) => {
      const pairs = telling.filter((pair) => pair.verdict === verdict);
      const text = pairs.length === row.pairs.length ? say("every pair") : stars(pairs, birds).join(`${say(";")} `);
      return make("span", { class: "of-pairs" }, verdictWord(verdict), ` ${text}`);
    });
  }

  // Pairs in few words: the bird that is in most of them, from each of the others, and so on with the rest.
  function stars(pairs, birds) {
    const found = [];
    let rest = pairs;
    while (rest.length) {
      const of = (bird) => rest.filter((pair) => pair.first === bird || pair.second === bird);
      const centre = birds.reduce((most, bird) => (of(bird).length > of(most).length ? bird : most));
      const others = of(centre).map((pair) => (pair.first === centre ? pair.second : pair.first));
      const names = others.map((other) => short(other, birds)).join(", ");
      found.push(say("%(bird)s from %(others)s", { bird: short(centre, birds), others: names }));
      rest = rest.filter((pair) => pair.first !== centre && pair.second !== centre);
    }
    return found;
  }

  function short(bird, birds) {
    return birds.some((each) => each !== bird && each.code === bird.code) ? `${bird.code} ${bird.name}` : bird.code;
  }

  function verdictWord(verdict) {
    const word = marks.verdicts[verdict];
    return make("span", { class: `v-${word.replaceAll(" ", "-")}` }, explained(word));
  }

  // Every verdict leads to what it means.
  function explained(word) {
    const way = `${picking.dataset.root}method.html#verdict-${word.replaceAll(" ", "-")}`;
    return make("a", { href: way, class: "verdict" }, say(word));
  }

  function valued(pair) {
    const shown = verdictWord(pair.verdict);
    if (!pair.value) return shown;
    const where = "hand" in pair ? [`${say("; in the hand")} `, explained(marks.verdicts[pair.hand])]
      : [` ${say("by %(respect)s", { respect: pair.name })}`];
    return make("span", {}, shown, " ", make("span", { class: "why" }, pair.value.toFixed(2).replace(".", words["decimal mark"]), ...where));
  }

  setUp();
  window.addEventListener("hashchange", show);
  show();
})();
