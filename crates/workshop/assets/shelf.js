// @ts-check
// The shelf: found by typing; when each quilt was last changed, in the reader's own clock.

const find = /** @type {HTMLInputElement | null} */ (document.getElementById("find"));
find?.addEventListener("input", () => {
  const wanted = find.value.trim().toLowerCase();
  for (const quilt of document.querySelectorAll(".quilts > li")) {
    if (quilt instanceof HTMLElement) quilt.hidden = !quilt.textContent?.toLowerCase().includes(wanted);
  }
});

for (const time of document.querySelectorAll("time[data-when]")) {
  if (!(time instanceof HTMLElement)) continue;
  time.textContent = `Changed ${new Date(Number(time.dataset.when) * 1000).toLocaleString([], { dateStyle: "medium", timeStyle: "short" })}`;
}
