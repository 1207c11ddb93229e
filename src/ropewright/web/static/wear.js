// A log that is too large is said so before it is sent, in the words of the page; the server
// refuses it as well.
for (const input of document.querySelectorAll("input[type=file][data-most-mb]")) {
  const most = Number(input.dataset.mostMb);
  input.addEventListener("change", () => {
    const whole = [...input.files].reduce((sum, one) => sum + one.size, 0) / 1e6;
    const tooMuch = whole > most - 0.5; // the other fields need a little room
    input.setCustomValidity(tooMuch ? input.dataset.tooMuch.replace("{whole}", whole.toFixed(1)) : "");
    if (tooMuch) input.reportValidity();
  });
}
