// Scans with the camera of a phone or tablet, into the scan box, where the
// browser may use one. Without it, or without this script, a photo can be sent.
const panel = document.querySelector("[data-camera]");
const box = document.querySelector("[data-scan]");
const remembered = "wirehold-camera";

if (panel && box && window.isSecureContext && navigator.mediaDevices?.getUserMedia) {
  const start = panel.querySelector("[data-camera-start]");
  const stop = panel.querySelector("[data-camera-stop]");
  const view = panel.querySelector("[data-camera-view]");
  const says = panel.querySelector("[data-camera-says]");
  let stream = null;
  let read = null;

  // The browser's own reader where it has one that reads all we print; else
  // the reader that comes with the program.
  const reader = async () => {
    const wanted = ["code_128", "qr_code", "data_matrix", "ean_13"];
    if ("BarcodeDetector" in window) {
      const can = await BarcodeDetector.getSupportedFormats();
      if (wanted.every((format) => can.includes(format))) {
        const detector = new BarcodeDetector({ formats: wanted });
        return async () => (await detector.detect(view)).map((symbol) => symbol.rawValue);
      }
    }
    return workerReader();
  };

  const workerReader = () => {
    const worker = new Worker(panel.dataset.worker);
    const canvas = document.createElement("canvas");
    return () =>
      new Promise((resolve, reject) => {
        worker.onmessage = ({ data }) => (data.texts ? resolve(data.texts) : reject(new Error(data.fault)));
        worker.onerror = () => reject(new Error("the reader could not be started"));
        canvas.width = view.videoWidth;
        canvas.height = view.videoHeight;
        const context = canvas.getContext("2d", { willReadFrequently: true });
        context.drawImage(view, 0, 0);
        worker.postMessage(context.getImageData(0, 0, canvas.width, canvas.height));
      });
  };

  const end = () => {
    stream?.getTracks().forEach((track) => track.stop());
    stream = null;
    view.hidden = true;
    stop.hidden = true;
    start.hidden = false;
  };

  // A label bears its code twice, bare and first among the facts; a box bears several symbols, of which some were scanned before.
  const choose = (texts) => {
    const before = [...box.form.querySelectorAll("input[type=hidden][name=scan]")].map((field) => field.value);
    return texts
      .map((text) => text.trim().split(/\r?\n|; /)[0])
      .filter((text) => text !== "" && !before.includes(text.replaceAll("\x1d", "|")))
      .sort((a, b) => a.length - b.length)[0];
  };

  const look = async () => {
    while (stream) {
      if (view.videoWidth > 0) {
        const text = choose(await read());
        if (text && stream) {
          says.textContent = `Read: ${text}`;
          end();
          box.value = text;
          box.form.requestSubmit();
          return;
        }
      }
      await new Promise((resolve) => setTimeout(resolve, 120));
    }
  };

  const begin = async () => {
    says.textContent = "Hold the code in front of the camera.";
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } }, audio: false });
      view.srcObject = stream;
      await view.play();
      read ??= await reader();
      view.hidden = false;
      stop.hidden = false;
      start.hidden = true;
      sessionStorage.setItem(remembered, "on");
      await look();
    } catch (error) {
      end();
      sessionStorage.removeItem(remembered);
      says.textContent = error.name === "NotAllowedError"
        ? "The browser may not use the camera: allow it for this page, or take a photo below."
        : "The camera cannot be used here: take a photo below, or type the code.";
    }
  };

  panel.hidden = false;
  start.addEventListener("click", begin);
  stop.addEventListener("click", () => {
    sessionStorage.removeItem(remembered);
    says.textContent = "";
    end();
  });
  if (sessionStorage.getItem(remembered)) {
    begin(); // one scan after another without a touch
  }
}
