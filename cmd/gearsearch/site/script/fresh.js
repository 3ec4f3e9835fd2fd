"use strict";

// fresh tells whether what is shown answers what is asked. Whoever changes the
// question says so at once; what is shown from before then looks old, and stays
// so until an answer takes its place. Nothing else calls an answer current.
//
// Marks on body: data-ranking, data-tally and data-prices, "old" where the
// builds, the counts and the prices of wishes that are shown belong to an
// earlier question, and data-ranking "partial" where the builds are the best so far;
// busy while an answer is on its way; halted where the reader has stopped it;
// unanswered where there is none, or not of all files.
const fresh = (() => {
  let ranking = true;
  let partial = false; // the builds are the best so far
  let halted = false;
  let tally = true;
  let prices = true;
  let working = false;
  let reason = null; // why there is no answer: what a notice takes
  let unread = []; // names of files that are not in use
  let tell = () => {};

  function show() {
    const mark = document.body;
    mark.dataset.ranking = !ranking ? "old" : partial ? "partial" : "current";
    mark.dataset.tally = tally ? "current" : "old";
    mark.dataset.prices = prices ? "current" : "old";
    mark.classList.toggle("busy", working);
    mark.classList.toggle("halted", halted);
    mark.classList.toggle("unanswered", Boolean(reason) || unread.length > 0);
    tell({ reason, unread });
  }

  // asked: the question has changed, and an answer is on its way. What is shown looks
  // old before anything else is done: before it is asked, and before anything is drawn.
  function asked() {
    ranking = tally = prices = partial = halted = false;
    working = true;
    reason = null;
    document.body.dataset.busy = "true";
    show();
  }

  // ranked, counted, priced: the builds, the counts, and the prices of the
  // question are shown.
  function ranked() {
    ranking = true;
    partial = false;
    show();
  }

  // sofar: the builds that are shown are the best so far of the question.
  function sofar() {
    ranking = partial = true;
    show();
  }

  // stopped: the reader does not want to wait for the rest of the answer.
  function stopped() {
    halted = true;
    rest();
  }

  function counted() {
    tally = true;
    show();
  }

  function priced() {
    prices = true;
    show();
  }

  // rest: nothing is on its way any more. Without an answer why tells the
  // reason.
  function rest(why) {
    working = false;
    reason = why || null;
    document.body.dataset.busy = "false";
    show();
  }

  // without names the files that the answer leaves out, having mistakes.
  function without(names) {
    unread = names;
    show();
  }

  // put is told what there is to say about the answer when that changes.
  const put = (f) => (tell = f);

  return { asked, ranked, sofar, stopped, counted, priced, rest, without, put };
})();
