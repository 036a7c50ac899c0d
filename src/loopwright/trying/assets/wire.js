// Stands in for a notebook's kernel: questions go to the server that gave this page, and nowhere else.
import page from "./page.js";

const hearers = [];
const asking = new Map();
const tell = (answer) => hearers.forEach((hear) => hear(answer));

async function send(question) {
  const end = new AbortController();
  if (question.ask === "look") {
    asking.get(question.side)?.abort();
    asking.set(question.side, end);
  }
  const marks = { run: question.run, side: question.side };
  try {
    const answer = await fetch("ask", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(question),
      signal: end.signal,
    });
    if (!answer.ok) return tell({ stage: "lost", words: `The server refused: ${await answer.text()}`, ...marks });
    const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
    let rest = "";
    for (;;) {
      const { value, done } = await reader.read();
      if (done) return undefined;
      const lines = (rest + value).split("\n");
      rest = lines.pop();
      lines.forEach((line) => tell(JSON.parse(line)));
    }
  } catch (error) {
    if (end.signal.aborted) return undefined;
    return tell({ stage: "lost", words: "The server has ended. Begin it again with loopwright explore, and open the new address.", ...marks });
  }
}

const model = { send, on: (event, hear) => event === "msg:custom" && hearers.push(hear), off() {}, get: () => "" };
page.render({ model, el: document.getElementById("bench") });
