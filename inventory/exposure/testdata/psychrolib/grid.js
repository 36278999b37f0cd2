// Prints 500 points of air as the psychrometric library of the npm registry
// computes them (ASHRAE 2017), as CSV: 0 to 48 degC by 5 to 100 %RH.
const air = require("psychrolib");
air.SetUnitSystem(air.SI);
const vapourGasConstant = 461.524; // J/kg K, as testdata/psychrometrics_computed.csv was made with
console.log("id,t_degC,rh_pct,dew_point_degC,abs_humidity_g_m3");
for (let i = 0; i < 25; i++) {
  for (let j = 1; j <= 20; j++) {
    const t = 2 * i, rh = 5 * j;
    const dew = air.GetTDewPointFromRelHum(t, rh / 100);
    const water = 1000 * air.GetVapPresFromRelHum(t, rh / 100) / (vapourGasConstant * (t + 273.15));
    console.log([`G-${t}-${rh}`, t, rh, dew.toFixed(6), water.toFixed(6)].join(","));
  }
}
