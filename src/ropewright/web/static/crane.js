// The drawing of the crane follows the sliders; one picture is asked for at a time.  On a narrow
// screen it is drawn for its width.
const form = document.querySelector("[data-crane]");
if (form) {
  const picture = document.querySelector("[data-drawing]");
  const base = picture.src.split("?")[0];
  const narrow = matchMedia("(max-width: 40rem)");
  let busy = false, again = false;
  function address() {
    const asked = new URLSearchParams(new FormData(form));
    if (narrow.matches) asked.set("width", picture.dataset.narrow);
    return `${base}?${asked}`;
  }
  function draw() {
    for (const one of form.querySelectorAll("input[type=range]")) {
      const [value, unit] = "feet" in one.dataset ? [one.value / 0.3048, "ft"] : [Number(one.value), one.dataset.unit];
      form.querySelector(`output[for="${one.id}"]`).textContent = `${value.toFixed(1)} ${unit}`;
    }
    if (busy) { again = true; return; }
    busy = true;
    const next = new Image();
    next.onload = next.onerror = () => {
      if (next.naturalWidth) picture.src = next.src;
      busy = false;
      if (again) { again = false; draw(); }
    };
    next.src = address();
  }
  // From here on the script says what is shown.
  if (narrow.matches) picture.src = address();
  picture.parentElement.querySelector("source")?.remove();
  narrow.addEventListener("change", draw);
  form.addEventListener("input", draw);
  form.querySelector("button").hidden = true;
}
