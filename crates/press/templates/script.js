// Makes one thing more comfortable: the Escape key puts an open note away, and the page stays where it is.
let opener = null;
document.addEventListener("click", (event) => {
  opener = event.target.closest("a[href^='#note-']") ?? opener;
});
document.addEventListener("keydown", (event) => {
  const back = event.key === "Escape" && document.querySelector(".note:target .back");
  if (!back) return;
  event.preventDefault();
  const height = window.scrollY;
  const restore = () => {
    window.scrollTo(0, height);
    (opener ?? document.querySelector(back.hash))?.focus({ preventScroll: true });
  };
  window.addEventListener("hashchange", restore, { once: true });
  back.click();
});
