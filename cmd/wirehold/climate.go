package main

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"wirehold/inventory"
	"wirehold/inventory/exposure"
	"wirehold/inventory/unit"
	"wirehold/server/schedule"
)

type climateCommand struct {
	Dewpoint dewpointCommand `cmd:"" help:"Compute the dew point and the water in air from its temperature and relative humidity."`
}

type dewpointCommand struct {
	T    string `required:"" help:"The air's temperature with its scale: 25C or 77F; below nought with an equals sign: --t=-5C."`
	RH   string `required:"" name:"rh" help:"Its relative humidity in percent: 60."`
	JSON bool   `help:"One JSON object." name:"json"`
}

// dewpoint is what the command says, as JSON.
type dewpoint struct {
	TemperatureC       float64  `json:"temperature_c"`
	RHPct              float64  `json:"rh_pct"`
	DewPointC          float64  `json:"dew_point_c"`
	FrostPointC        *float64 `json:"frost_point_c,omitempty"`
	VapourPressureHPa  float64  `json:"vapour_pressure_hpa"`
	SaturationHPa      float64  `json:"saturation_pressure_hpa"`
	AbsoluteHumidityGM float64  `json:"absolute_humidity_g_m3"`
	MixingRatioGKg     float64  `json:"mixing_ratio_g_kg"`
	Formula            string   `json:"formula"`
	FrostFormula       string   `json:"frost_formula,omitempty"`
}

func (c *dewpointCommand) Run(p *program) error {
	var a exposure.Air
	var err error
	if a.Temperature, err = unit.ParseCelsius(c.T); err != nil {
		return fmt.Errorf("--t %w", err)
	}
	if a.Humidity, err = unit.ParseHumidity(strings.TrimSuffix(strings.TrimSpace(c.RH), "%") + "%"); err != nil {
		return fmt.Errorf("--rh %w", err)
	}
	dew, err := a.DewPoint()
	if err != nil {
		return err
	}
	if c.JSON {
		return c.encode(p, a, dew)
	}
	w := tabwriter.NewWriter(p.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(w, "dew point\t%s\t%s\n", dew.Tenth(), dew.Fahrenheit())
	frost, frosty, err := a.FrostPoint()
	if err != nil {
		return err
	}
	if frosty {
		fmt.Fprintf(w, "frost point\t%s\t%s\n", frost.Tenth(), frost.Fahrenheit())
	}
	water, err := a.AbsoluteHumidity()
	if err != nil {
		return err
	}
	ratio, err := a.MixingRatio(unit.Atmosphere)
	if err != nil {
		return err
	}
	fmt.Fprintf(w, "water in the air\t%s\t%s at %s\n", water, ratio, unit.Atmosphere)
	fmt.Fprintf(w, "air\t%s, %s\t%s\n", a.Temperature, a.Humidity, a.Temperature.Fahrenheit())
	fmt.Fprintf(w, "by\t%s\n", exposure.Formula)
	if frosty {
		fmt.Fprintf(w, "frost point by\t%s\n", exposure.FrostFormula)
	}
	return w.Flush()
}

func (c *dewpointCommand) encode(p *program, a exposure.Air, dew unit.Celsius) error {
	saturated, err := exposure.SaturationPressure(a.Temperature)
	if err != nil {
		return err
	}
	vapour, err := a.VapourPressure()
	if err != nil {
		return err
	}
	water, err := a.AbsoluteHumidity()
	if err != nil {
		return err
	}
	ratio, err := a.MixingRatio(unit.Atmosphere)
	if err != nil {
		return err
	}
	v := dewpoint{TemperatureC: a.Temperature.Degrees(), RHPct: a.Humidity.Percents(), DewPointC: dew.Degrees(), VapourPressureHPa: thousandths(float64(vapour) / 100),
		SaturationHPa: thousandths(float64(saturated) / 100), AbsoluteHumidityGM: thousandths(float64(water)), MixingRatioGKg: thousandths(float64(ratio)), Formula: exposure.Formula}
	if frost, frosty, err := a.FrostPoint(); err == nil && frosty {
		degrees := frost.Degrees()
		v.FrostPointC, v.FrostFormula = &degrees, exposure.FrostFormula
	}
	return json.NewEncoder(p.out).Encode(v)
}

// thousandths rounds a figure to three decimals: no logger is better.
func thousandths(v float64) float64 { return math.Round(1000*v) / 1000 }

// dropReadings is the job that drops readings which are summed up and past the
// time for which they are kept, a day of them at a time.
func dropReadings(ledger *inventory.Ledger, log *slog.Logger) schedule.Job {
	return schedule.Job{Name: "drop old readings", Spec: "20 3 * * *", Timeout: 10 * time.Minute, Do: func(ctx context.Context, at time.Time) error {
		total := 0
		for n := 1; n > 0; total += n {
			var err error
			if n, err = ledger.DropReadings(ctx, at); err != nil {
				return err
			}
		}
		log.Info("dropped readings", "readings", total)
		return nil
	}}
}
