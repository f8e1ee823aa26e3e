/* Compares birds by looking up. What two statements come to was worked out when the guide was built; here
   the results are only found, gathered by part and put in the order of the pages of pairs. */
"use strict";

const guide = (() => {
  const kept = new Map();

  function keep(name, value) {
    kept.set(name, value);
  }

  /* A phrase in the language of the guide, with values in the places that it names; English as it stands here. */
  function say(phrase, values = {}) {
    return filled(kept.get("phrases").phrases[phrase], values);
  }

  // The phrase that fits a number, which stands in its place "num".
  function count(one, several, number) {
    const words = kept.get("phrases");
    const isOne = number === 1 || (number < 2 && words["one below two"]);
    return filled(isOne ? words.phrases[one] : words.several[one], { num: number });
  }

  function filled(text, values) {
    return text.replace(/%\((\w+)\)s/g, (_, name) => values[name]);
  }

  /* A phrase with parts of a page in its places, in the order in which they are to be appended. */
  function told(phrase, parts) {
    return kept.get("phrases").phrases[phrase].split(/%\((\w+)\)s/).flatMap((each, i) => (i % 2 ? parts[each] : each));
  }

  /* One plumage of an account. `told` has by key the number of the statement and the phrase that makes it;
     `said` by part the phrases; a phrase is its text and the plumage that it was written for. */
  function bird(code, at) {
    const account = kept.get(code);
    const { name, told, said, measures } = account.plumages[at];
    const found = { code, name, measures, told: new Map(), said: new Map() };
    for (let i = 0; i < told.length; i += 3) {
      found.told.set(told[i], { statement: told[i + 1], phrase: account.phrases[told[i + 2]] });
    }
    for (const [part, ...phrases] of said) found.said.set(part, phrases.map((i) => account.phrases[i]));
    return found;
  }

  function unpacked(text, at, width) {
    const { digits } = kept.get("marks");
    let number = 0;
    for (let i = at * width; i < (at + 1) * width; i++) number = number * digits.length + digits.indexOf(text[i]);
    return number;
  }

  // Two statements of one key: a place in the lower triangle of its table.
  function separated(key, first, second) {
    const marks = kept.get("marks");
    if (first === second) return { value: 0, verdict: marks.verdicts.indexOf("shared"), striking: 0 };
    const [low, high] = first < second ? [first, second] : [second, first];
    const at = (high * (high - 1)) / 2 + low;
    const [value, verdict] = marks.outcomes[unpacked(marks.tables[key], at, marks.width)];
    const colours = marks.striking[key];
    return { value, verdict, striking: colours ? unpacked(colours, at, marks["striking width"]) : 0 };
  }

  function byRank(first, second) {
    for (let i = 0; i < first.rank.length; i++) {
      if (first.rank[i] !== second.rank[i]) return first.rank[i] < second.rank[i] ? -1 : 1;
    }
    return 0;
  }

  // One part of two birds: its best aspect decides.
  function partOfTwo(part, first, second) {
    const marks = kept.get("marks");
    const rows = [];
    marks.keys.forEach(([of, name], key) => {
      if (of !== part) return;
      const [one, other] = [first.told.get(key), second.told.get(key)];
      const written = [one, other].some((each) => each && marks.implied[key][each.statement] === "0");
      if (!one || !other || !written) return;
      const found = separated(key, one.statement, other.statement);
      rows.push({ key, name, ...found, rank: [found.verdict, -found.value, key] });
    });
    rows.sort(byRank);
    const best = rows[0] || { value: 0, verdict: marks.verdicts.length - 1, name: "" };
    const striking = Math.max(0, ...rows.map((row) => row.striking));
    return { first, second, value: best.value, verdict: best.verdict, name: best.name, striking };
  }

  /* Overlap of two normal distributions, in closed form: their densities cross where a quadratic in x is 0
     (Inman and Bradley 1989, Commun. Statist. Theory Methods 18:3851-3874). */
  function overlap([mean1, sd1], [mean2, sd2]) {
    const apart = mean2 - mean1;
    const a = sd1 ** 2 - sd2 ** 2;
    // Spreads that are all but one are taken for one: the quadratic would divide nothing by nothing.
    if (Math.abs(sd1 - sd2) <= 1e-7 * Math.max(sd1, sd2)) return 2 * below(-Math.abs(apart) / (2 * sd1), 0, 1);
    const root = sd1 * sd2 * Math.sqrt(apart ** 2 + 2 * a * Math.log(sd1 / sd2));
    const middle = mean2 * sd1 ** 2 - mean1 * sd2 ** 2;
    const between = [(middle - root) / a, (middle + root) / a]
      .map((x) => below(x, mean1, sd1) - below(x, mean2, sd2));
    return 1 - Math.abs(between[0]) - Math.abs(between[1]);
  }

  /* Share of a normal distribution below x, by half of the complementary error function at z: near the middle
     by its series, far out by its continued fraction (NIST Digital Library of Mathematical Functions, 7.6.2
     and 7.9.1; in the form known to us by heart). */
  function below(x, mean, sd) {
    const z = Math.abs(x - mean) / (sd * Math.SQRT2);
    const bell = Math.exp(-z * z) / Math.sqrt(Math.PI);
    let beyond;
    if (z < 2.5) {
      let [term, sum] = [z, z];
      for (let n = 1; term > sum * 1e-17; n++) sum += term *= (2 * z * z) / (2 * n + 1);
      beyond = 0.5 - bell * sum;
    } else {
      let fraction = z;
      for (let k = 60; k > 0; k--) fraction = z + k / 2 / fraction;
      beyond = bell / (2 * fraction);
    }
    return x < mean ? beyond : 1 - beyond;
  }

  // As in the program, nine digits count: the rest is what binary fractions put there.
  function rounded(value) {
    return Math.min(1, Math.max(0, Math.round(value * 1e9) / 1e9));
  }

  function verdictOf(value) {
    const { thresholds, verdicts } = kept.get("marks");
    if (value === 0) return verdicts.indexOf("shared");
    return thresholds.findIndex((least) => least !== null && value >= least);
  }

  // A size is at most helpful in the field, and only if the means lie well apart.
  function measureOfTwo(word, first, second) {
    const marks = kept.get("marks");
    const none = marks.verdicts.length - 1;
    const [one, other] = [first, second].map((each) => each.measures[word] && each.measures[word][2]);
    if (!one || !other) return { first, second, value: 0, hand: none, verdict: none };
    const value = rounded(1 - overlap(one, other));
    const hand = verdictOf(value);
    const seen = !marks.unseen.includes(word);
    const ratio = Math.max(one[0], other[0]) / Math.min(one[0], other[0]);
    const [helpful, weak] = ["helpful", "weak"].map((each) => marks.verdicts.indexOf(each));
    const verdict = hand > helpful ? hand : seen && ratio >= marks["apart in field"] ? helpful : weak;
    return { first, second, value, hand, verdict };
  }

  function pairsOf(birds) {
    return birds.flatMap((first, i) => birds.slice(i + 1).map((second) => [first, second]));
  }

  // Of several pairs the best verdict counts, then how many have it: with two birds, the order of their page.
  function summed(pairs) {
    const verdict = Math.min(...pairs.map((each) => each.verdict));
    const many = pairs.filter((each) => each.verdict === verdict).length;
    const value = Math.max(...pairs.map((each) => each.value));
    return { pairs, verdict, many, value };
  }

  function partRow(part, birds) {
    const [word, address, view, extent] = kept.get("marks").parts[part];
    const row = summed(pairsOf(birds).map(([first, second]) => partOfTwo(part, first, second)));
    const striking = Math.max(...row.pairs.map((each) => each.striking));
    const rank = [row.verdict, -row.many, view, -extent, -striking, -row.value, word];
    return { word, address, said: birds.map((each) => each.said.get(part) || []), ...row, rank };
  }

  function measureRow(word, birds) {
    const row = summed(pairsOf(birds).map(([first, second]) => measureOfTwo(word, first, second)));
    const said = birds.map((each) => (each.measures[word] ? [each.measures[word]] : []));
    return { word, address: "", said, ...row, rank: [row.verdict, -row.many, -row.value, word] };
  }

  /* Sets two or more birds side by side: rows of parts and of measures, the most telling first. */
  function compare(birds) {
    const parts = new Set(birds.flatMap((each) => [...each.said.keys()]));
    const measures = new Set(birds.flatMap((each) => Object.keys(each.measures)));
    return {
      parts: [...parts].map((part) => partRow(part, birds)).sort(byRank),
      measures: [...measures].map((word) => measureRow(word, birds)).sort(byRank),
    };
  }

  return { keep, kept, say, told, count, bird, compare, overlap };
})();
