// Copies the newsletter. The page is whole without this file.
"use strict";
(() => {
  const status = document.getElementById("copied");
  const say = (text) => { if (status) status.textContent = text; };

  // Selects an element's content, so that it can be copied by hand.
  const select = (element) => {
    if (element.select) { element.focus(); element.select(); return; }
    const range = document.createRange();
    range.selectNodeContents(element);
    const selection = getSelection();
    selection.removeAllRanges();
    selection.addRange(range);
  };

  // The old way, for browsers and addresses without a clipboard.
  const byHand = (element, what) => {
    select(element);
    let done = false;
    try { done = document.execCommand("copy"); } catch { done = false; }
    say(done ? what + " copied." : "Press Ctrl+C (on a Mac, Command+C) to copy.");
  };

  for (const button of document.querySelectorAll("[data-copy]")) {
    const field = document.getElementById(button.dataset.copy);
    button.hidden = false;
    button.addEventListener("click", async () => {
      try { await navigator.clipboard.writeText(field.value); say("Copied."); } catch { byHand(field, "Field"); }
    });
  }

  for (const button of document.querySelectorAll("[data-copy-letter]")) {
    const letter = document.getElementById(button.dataset.copyLetter);
    const text = document.getElementById(button.dataset.copyText);
    button.hidden = false;
    button.addEventListener("click", async () => {
      try {
        await navigator.clipboard.write([new ClipboardItem({
          "text/html": new Blob([letter.innerHTML.trim()], { type: "text/html" }),
          "text/plain": new Blob([text.value], { type: "text/plain" }),
        })]);
        say("Newsletter copied.");
      } catch { byHand(letter, "Newsletter"); }
    });
  }
})();
