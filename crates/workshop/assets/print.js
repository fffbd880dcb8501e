// @ts-check
// A page that is made to be printed.
document.addEventListener("click", (event) => {
  if (event.target instanceof Element && event.target.closest("[data-print]")) print();
});
