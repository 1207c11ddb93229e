// A log that is too large is said so before it is sent; the server refuses it as well.
for (const input of document.querySelectorAll("input[type=file][data-most-mb]")) {
  const most = Number(input.dataset.mostMb);
  input.addEventListener("change", () => {
    const whole = [...input.files].reduce((sum, one) => sum + one.size, 0) / 1e6;
    const tooMuch = whole > most - 0.5; // the other fields need a little room
    input.setCustomValidity(tooMuch ? `${whole.toFixed(1)} MB; at most ${most} MB together. Give fewer or packed logs (.gz).` : "");
    if (tooMuch) input.reportValidity();
  });
}
