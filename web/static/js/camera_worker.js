// Reads bar codes in frames of the camera, away from the page. It answers each
// frame with what a hand scanner would send, one text a symbol.
importScripts("../vendor/zxing-wasm/reader.js");

ZXingWASM.prepareZXingModule({
  overrides: { locateFile: (name) => new URL(`../vendor/zxing-wasm/${name}`, self.location).href },
});

const options = {
  formats: ["Code128", "QRCode", "DataMatrix", "EAN13", "EAN8", "UPCA"],
  maxNumberOfSymbols: 8,
  tryHarder: true,
  textMode: "Plain",
};

// The symbologies whose text is a GS1 element string (ISO/IEC 15424).
const gs1 = ["]C1", "]d2", "]Q3", "]e0"];

self.addEventListener("message", async ({ data: frame }) => {
  try {
    const found = await ZXingWASM.readBarcodes(frame, options);
    const texts = found
      .filter((symbol) => symbol.isValid)
      .map(({ text, symbologyIdentifier: id }) => (gs1.includes(id) ? id + text : text));
    self.postMessage({ texts });
  } catch (error) {
    self.postMessage({ fault: String(error) });
  }
});
