// @ts-check
// What the workshop has to say of its own accord, heard as long as the window is open: begun again when the program was.

/** How long to wait before listening anew, milliseconds: at first, and at most. */
const [SOON, LATE] = [300, 3000];

/** Hears what is told at an address; each word is handed over as it was meant.
 * @param {string} address @param {(told: any) => void} heard */
export function hear(address, heard) {
  let wait = SOON;
  const listen = () => {
    const ear = new WebSocket(new URL(address, location.href).href.replace(/^http/, "ws"));
    ear.addEventListener("message", ({ data }) => { wait = SOON; heard(JSON.parse(data)); });
    ear.addEventListener("close", () => { setTimeout(listen, wait); wait = Math.min(wait * 2, LATE); });
  };
  listen();
}
