// A page that is to be one sheet of A4 is printed a little smaller where its words need it:
// it is laid out as printed, unseen, until it fits.
const widthMM = 210 - 2 * 8, heightMM = 297 - 2 * 6; // of the sheet within its margins, as print.css has them
const steps = [1, 0.97, 0.94, 0.91, 0.88, 0.85, 0.82];

/** The rules that hold on the screen alone. */
function ofTheScreen() {
  return [...document.styleSheets].flatMap((sheet) => [...sheet.cssRules])
    .filter((rule) => rule instanceof CSSMediaRule && rule.media.mediaText.includes("screen"));
}

/** Lays the page out as on paper for as long as something is done. */
function onPaper(root, what) {
  const styles = document.querySelector('link[media="print"]');
  const put = ofTheScreen().map((rule) => [rule.media, rule.media.mediaText]);
  for (const [media] of put) media.mediaText = "not all";
  styles.media = "all";
  root.style.width = `${widthMM}mm`;
  what();
  root.style.width = "";
  styles.media = "print";
  for (const [media, text] of put) media.mediaText = text;
}

const root = document.documentElement;
const fits = () => root.getBoundingClientRect().height <= heightMM * 96 / 25.4 - 4; // CSS pixels, and what rounding may add
addEventListener("beforeprint", () => onPaper(root, () => {
  for (const step of steps) {
    root.style.setProperty("--fit", step);
    if (fits()) break;
  }
}));
