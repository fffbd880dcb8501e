// @ts-check
// What the workshop has to say of its own accord, heard as long as the window is open: begun again when the program was.

/** How long to wait before listening anew, milliseconds: at first, and at most. */
const [SOON, LATE] = [300, 3000];

/** Hears what is told at an address; each word is handed over as it was meant. What comes back says words there; it is asked anew
 * what to say first whenever listening has begun.
 * @param {string} address @param {(told: any) => void} heard @param {(() => object)=} first
 * @returns {(words: object) => void} */
export function hear(address, heard, first) {
  let wait = SOON;
  /** @type {WebSocket | null} */
  let open = null;
  const listen = () => {
    const ear = new WebSocket(new URL(address, location.href).href.replace(/^http/, "ws"));
    ear.addEventListener("open", () => { open = ear; if (first) ear.send(JSON.stringify(first())); });
    ear.addEventListener("message", ({ data }) => { wait = SOON; heard(JSON.parse(data)); });
    ear.addEventListener("close", () => { open = null; setTimeout(listen, wait); wait = Math.min(wait * 2, LATE); });
  };
  listen();
  return (words) => { if (open?.readyState === WebSocket.OPEN) open.send(JSON.stringify(words)); };
}
