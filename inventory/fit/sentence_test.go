package fit

import (
	"testing"

	"wirehold/inventory/unit"
)

// sentence is what one rule says at one outcome, word for word, in each
// language.
type sentence struct {
	rule    Rule
	outcome Outcome
	offer   Offer
	demand  Demand
	feeder  *Feeder
	profile string
	says    string
	es      string
}

func sentences() []sentence {
	steel, inox := joint("A36", carbonSteel), joint("304L", stainlessSteel)
	feeder := &Feeder{Name: "F3"}
	net := func(g unit.Grams) Offer { return on(spool(wire8()), func(o *Offer) { o.Net = g }) }
	papers := func(c Certificate) Offer { return on(spool(wire1C()), func(o *Offer) { o.Certificate = c }) }
	laid := []Laid{{Spool: "W1", Wire: "E71T-8", Shielding: SelfShielded}}
	cold := Demand{Laid: laid, Toughness: tough("20 ft-lbf at 0 degF")}
	held := on(spool(wire1C()), func(o *Offer) { o.Held = "box torn" })
	at := func(months int) Offer {
		return on(spool(wire1C()), func(o *Offer) { o.Made, o.Sealing = ago(months), VacuumFoil })
	}
	wrapped := func(text string) Offer { return on(spool(wire1C()), func(o *Offer) { o.Package = wound(text) }) }
	hub := &Feeder{Name: "F3", Packages: []Package{wound("12 in spool")}}
	outside := listed(joint("A572 Gr 50", carbonSteel), "A36 (carbon steel)", "group I")
	outside.ProcedureSource, outside.Thickness, outside.Qualified.Least, outside.Qualified.Most = "procedure WPS-14 rev C", mm(40), mm(3), mm(25)
	unstated, within := outside, listed(steel, "A36 (carbon steel)")
	unstated.Thickness = 0
	gradeless := listed(joint("A572 Gr 50", carbonSteel), "A572 (carbon steel)")
	plain := listed(joint("A572", carbonSteel), "A572 Gr 50 (carbon steel)")
	gradeless.ProcedureSource, plain.ProcedureSource = outside.ProcedureSource, outside.ProcedureSource
	home := func(melted ...string) Offer { return on(spool(wire1C()), func(o *Offer) { o.Origin.Melted = melted }) }
	return []sentence{
		{RuleBaseMetal, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about the base metal. This wire: carbon steel.",
			"El trabajo no pide nada sobre el metal base. Este alambre: acero al carbono."},
		{RuleBaseMetal, Passed, spool(wire1C()), Demand{BaseMetals: steel}, nil, "", "This wire lays down carbon steel, as the joint is.",
			"Este alambre deposita acero al carbono, igual que la junta."},
		{RuleBaseMetal, Caution, spool(wire1C()), Demand{BaseMetals: joint("A514", lowAlloySteel)}, nil, "", "This wire lays down carbon steel and the joint is A514 (low-alloy steel): ask the engineer whether it is wanted.",
			"Este alambre deposita acero al carbono y la junta es de A514 (acero de baja aleación): pregunte al ingeniero si eso es lo que se quiere."},
		{RuleBaseMetal, Stops, spool(wire1C()), Demand{BaseMetals: inox}, nil, "", "Never weld stainless steel with this wire: it lays down carbon steel. Take a stainless wire.",
			"Nunca suelde acero inoxidable con este alambre: deposita acero al carbono. Tome un alambre inoxidable."},
		{RuleClassification, NotDemanded, spool(wire1C(), "E71T-1C"), Demand{}, nil, "", "The job asks nothing about the classification. This wire: E71T-1C.",
			"El trabajo no pide nada sobre la clasificación. Este alambre: E71T-1C."},
		{RuleClassification, Passed, spool(wire1C(), "E71T-1C"), Demand{Classifications: []string{"E71T-1C", "E71T-9C"}}, nil, "", "This wire is E71T-1C, which the procedure lists.",
			"Este alambre es E71T-1C, que el procedimiento indica."},
		{RuleClassification, Stops, spool(wire1C(), "E71T-1C"), Demand{Classifications: []string{"E71T-12C"}}, nil, "", "This wire is E71T-1C. The procedure lists E71T-12C.",
			"Este alambre es E71T-1C. El procedimiento indica E71T-12C."},
		{RuleProcess, NotDemanded, spool(wire8()), Demand{}, nil, "", "The job asks nothing about the process. This wire: self-shielded flux cored wire, FCAW-S.",
			"El trabajo no pide nada sobre el proceso. Este alambre: alambre tubular autoprotegido, FCAW-S."},
		{RuleProcess, Passed, spool(wire8()), Demand{Processes: []Process{FCAWS}}, nil, "", "This is wire for FCAW-S, as the procedure wants.",
			"Este es alambre para FCAW-S, como pide el procedimiento."},
		{RuleProcess, Caution, spool(with(without(wire8(), "shielding"), remembered("shielding", self, "", "8"))), Demand{Processes: []Process{FCAWS}}, nil, "", "This is wire for FCAW-S, as the procedure wants. That is from memory: confirm it on the box.",
			"Este es alambre para FCAW-S, como pide el procedimiento. Eso es de memoria: confírmelo en la caja."},
		{RuleProcess, Stops, spool(wire8()), Demand{Processes: []Process{FCAWG}}, nil, "", "This is self-shielded flux cored wire, FCAW-S. The procedure is FCAW-G: take a wire for that.",
			"Este es alambre tubular autoprotegido, FCAW-S. El procedimiento es FCAW-G: tome un alambre para eso."},
		{RuleDiameter, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about diameter. This wire: .045 in (1.14 mm).",
			"El trabajo no pide nada sobre el diámetro. Este alambre: .045 in (1.14 mm)."},
		{RuleDiameter, Passed, spool(wire1C()), Demand{Diameters: []unit.Length{inch(45)}}, nil, "", "This wire is .045 in (1.14 mm), which the procedure allows.",
			"Este alambre es de .045 in (1.14 mm), que el procedimiento permite."},
		{RuleDiameter, Caution, spool(wire1C()), Demand{}, feeder, "", "Nobody has recorded what wire sizes feeder F3 takes: look at its rolls and liner.",
			"Nadie ha registrado qué medidas de alambre acepta el alimentador F3: mire sus rodillos y su guía."},
		{RuleDiameter, Stops, spool(wire1C()), Demand{Diameters: []unit.Length{inch(52)}}, nil, "", "This wire is .045 in (1.14 mm). The procedure wants .052 in (1.32 mm).",
			"Este alambre es de .045 in (1.14 mm). El procedimiento pide .052 in (1.32 mm)."},
		{RulePolarity, NotDemanded, spool(wire11()), Demand{}, nil, "", "The job asks nothing about polarity. This wire: DCEN.",
			"El trabajo no pide nada sobre la polaridad. Este alambre: DCEN."},
		{RulePolarity, Passed, spool(wire11()), Demand{Polarity: DCEN}, nil, "", "Run this wire electrode negative (DCEN), as the procedure wants.",
			"Use este alambre con electrodo negativo (DCEN, polaridad directa), como pide el procedimiento."},
		{RulePolarity, Caution, spool(wire11()), Demand{}, feeder, "", "Nobody has recorded what polarity feeder F3 can give: it must be electrode negative (DCEN).",
			"Nadie ha registrado qué polaridad puede dar el alimentador F3: debe ser electrodo negativo (DCEN, polaridad directa)."},
		{RulePolarity, Stops, spool(wire11()), Demand{Polarity: DCEP}, nil, "", "Run this wire electrode negative (DCEN). The procedure wants electrode positive (DCEP).",
			"Use este alambre con electrodo negativo (DCEN, polaridad directa). El procedimiento pide electrodo positivo (DCEP, polaridad inversa)."},
		{RuleGas, NotDemanded, spool(wire1M()), Demand{}, nil, "", "The job asks nothing about shielding gas. This wire: 75-80 % Ar + balance CO2.",
			"El trabajo no pide nada sobre el gas de protección. Este alambre: 75-80 % Ar + resto CO2."},
		{RuleGas, Passed, spool(wire1M()), Demand{Gas: gasOf("75 Ar 25 CO2")}, nil, "", "This wire runs in 75 % Ar + 25 % CO2, as the procedure does.",
			"Este alambre se usa con 75 % Ar + 25 % CO2, igual que el procedimiento."},
		{RuleGas, Caution, spool(old1()), Demand{Gas: gasOf("CO2")}, nil, "", "This wire runs in CO2 100 %, as the procedure does. That holds for a label made to the 1995 edition: confirm it on the box.",
			"Este alambre se usa con CO2 100 %, igual que el procedimiento. Eso vale para una etiqueta hecha según la edición de 1995: confírmelo en la caja."},
		{RuleGas, Stops, spool(wire1M()), Demand{Gas: gasOf("82 Ar 18 CO2")}, nil, "", "This wire takes 75-80 % Ar + balance CO2. The procedure runs 82 % Ar + 18 % CO2.",
			"Este alambre lleva 75-80 % Ar + resto CO2. El procedimiento usa 82 % Ar + 18 % CO2."},
		{RulePasses, NotDemanded, spool(wire14()), Demand{}, nil, "", "The job asks nothing about passes. This wire: single only.",
			"El trabajo no pide nada sobre las pasadas. Este alambre: pasada única solamente."},
		{RulePasses, Passed, spool(wire1C()), Demand{Passes: MultiPass}, nil, "", "This wire may be laid in multiple passes, as the joint takes.",
			"Este alambre se puede depositar en varias pasadas, como lleva la junta."},
		{RulePasses, Caution, spool(wire14()), Demand{Passes: SinglePass, Prequalified: true}, nil, "structural-steel", "This is single-pass wire (14): a prequalified procedure may not use it. That limit is from memory: have the shop confirm it.",
			"Este es alambre de pasada única (14): un procedimiento precalificado no lo puede usar. Ese límite viene de la memoria: pida al taller que lo confirme."},
		{RulePasses, Stops, spool(wire14(), "E71T-14"), Demand{Passes: MultiPass}, nil, "", "This is single-pass wire (-14): never lay a second pass on it. The joint takes multiple passes.",
			"Este es alambre de pasada única (-14): nunca ponga una segunda pasada encima. La junta lleva varias pasadas."},
		{RuleThickness, NotDemanded, spool(wire11()), Demand{}, nil, "", "The job asks nothing about plate thickness. This wire: 19 mm.",
			"El trabajo no pide nada sobre el espesor de la placa. Este alambre: 19 mm."},
		{RuleThickness, Passed, spool(wire11()), Demand{Thickness: mm(12)}, nil, "", "The plate is 12 mm (.4724 in), within the wire's 19 mm.",
			"La placa es de 12 mm (.4724 in), dentro de los 19 mm del alambre."},
		{RuleThickness, Caution, spool(wire11()), Demand{Thickness: mm(22)}, nil, "", "This wire is recommended for plate up to 19 mm. The plate is 22 mm (.8661 in): take another wire or ask the engineer.",
			"Este alambre está recomendado para placa de hasta 19 mm. La placa es de 22 mm (.8661 in): tome otro alambre o pregunte al ingeniero."},
		{RuleThickness, Stops, spool(wire11()), Demand{Thickness: mm(16), Prequalified: true}, nil, "structural-steel", "This wire is prequalified for plate up to 12 mm. The plate is 16 mm (.6299 in): take another wire or ask the engineer.",
			"Este alambre está precalificado para placa de hasta 12 mm. La placa es de 16 mm (.6299 in): tome otro alambre o pregunte al ingeniero."},
		{RulePosition, NotDemanded, spool(wire8()), Demand{}, nil, "", "The job asks nothing about position. This wire: all.",
			"El trabajo no pide nada sobre la posición. Este alambre: todas."},
		{RulePosition, Passed, spool(wire8()), Demand{Positions: []Position{Flat, Overhead}}, nil, "", "This wire may be welded flat and overhead.",
			"Este alambre se puede soldar en posición plana y sobrecabeza."},
		{RulePosition, Caution, spool(wire1C()), Demand{Positions: []Position{VerticalUp}}, nil, "", "Run this wire vertical up, as the joint is welded. That is from memory: confirm it on the box.",
			"Use este alambre en posición vertical ascendente, como se suelda la junta. Eso es de memoria: confírmelo en la caja."},
		{RulePosition, Stops, spool(wire11()), Demand{Positions: []Position{VerticalUp}}, nil, "", "This wire is run vertical down. The joint is welded vertical up.",
			"Este alambre se usa en vertical descendente. La junta se suelda en posición vertical ascendente."},
		{RuleStrength, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about strength. This wire: 70 ksi.",
			"El trabajo no pide nada sobre la resistencia. Este alambre: 70 ksi."},
		{RuleStrength, Passed, spool(wire1C()), Demand{Tensile: unit.Stress{Value: 70, Unit: unit.KSI}}, nil, "", "The wire's tensile strength is 70 ksi; 70 ksi is wanted.",
			"En este alambre la resistencia a la tracción es 70 ksi; se pide 70 ksi."},
		{RuleStrength, Caution, spool(wire1C()), Demand{Matching: true, BaseMetals: steel, Thickness: mm(25)}, nil, "", "A36 (>20 mm, 3/4 in) is in group II of AWS D1.1 and is matched by E7. The wire's tensile strength is 70 ksi; 70 ksi for A36 (>20 mm, 3/4 in) is wanted. The group is from memory: have the engineer confirm it.",
			"A36 (>20 mm, 3/4 in) está en el grupo II de AWS D1.1 y le corresponde E7. En este alambre la resistencia a la tracción es 70 ksi; se pide 70 ksi para A36 (>20 mm, 3/4 in). El grupo es de memoria: pida al ingeniero que lo confirme."},
		{RuleStrength, Stops, spool(wire1C()), Demand{Tensile: unit.Stress{Value: 80, Unit: unit.KSI}}, nil, "", "The wire's tensile strength is 70 ksi, which is not enough. The procedure wants at least 80 ksi.",
			"En este alambre la resistencia a la tracción es 70 ksi, y no alcanza. El procedimiento pide por lo menos 80 ksi."},
		{RuleToughness, NotDemanded, spool(wire8()), Demand{}, nil, "", "The job asks nothing about toughness. This wire: 20 ft-lbf at -20 degF.",
			"El trabajo no pide nada sobre la tenacidad. Este alambre: 20 ft-lbf a -20 degF."},
		{RuleToughness, Passed, spool(wire8()), Demand{Toughness: tough("20 ft-lbf at -20 degF")}, nil, "", "The wire's toughness is 20 ft-lbf at -20 degF; 20 ft-lbf at -20 degF is wanted.",
			"En este alambre la tenacidad es 20 ft-lbf a -20 degF; se pide 20 ft-lbf a -20 degF."},
		{RuleToughness, Caution, spool(with(wire11(), sheet("impact_min_energy", "27", "J"), sheet("impact_temperature", "-30", "degC"))), Demand{Toughness: tough("27 J at -30 degC")}, nil, "", "The wire's toughness is 27 J at -30 degC; 27 J at -30 degC is wanted. The class promises none: the engineer must accept it.",
			"En este alambre la tenacidad es 27 J a -30 degC; se pide 27 J a -30 degC. La clase no asegura ninguna: el ingeniero debe aceptarla."},
		{RuleToughness, Stops, spool(wire11()), Demand{Toughness: tough("20 ft-lbf at 0 degF")}, nil, "", "This wire's class promises no toughness. Wanted is 20 ft-lbf at 0 degF: take a wire that is classified for it.",
			"La clase de este alambre no asegura tenacidad. Se pide 20 ft-lbf a 0 degF: tome un alambre clasificado para ello."},
		{RuleHydrogen, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about hydrogen.",
			"El trabajo no pide nada sobre el hidrógeno."},
		{RuleHydrogen, Passed, spool(with(wire1C(), published("diffusible_hydrogen_max", "4", "mL/100 g", "H4"))), Demand{Hydrogen: 8}, nil, "", "The wire's diffusible hydrogen is 4 mL/100 g; 8 mL/100 g is wanted.",
			"En este alambre el hidrógeno difusible es 4 mL/100 g; se pide 8 mL/100 g."},
		{RuleHydrogen, Caution, spool(with(wire1C(), remembered("diffusible_hydrogen_max", "4", "mL/100 g", "H4"))), Demand{Hydrogen: 8}, nil, "", "The wire's diffusible hydrogen is 4 mL/100 g; 8 mL/100 g is wanted. That is from memory: confirm it on the box.",
			"En este alambre el hidrógeno difusible es 4 mL/100 g; se pide 8 mL/100 g. Eso es de memoria: confírmelo en la caja."},
		{RuleHydrogen, Stops, spool(wire1C()), Demand{Hydrogen: 8}, nil, "", "Nobody says what diffusible hydrogen this wire gives: the class and the box do not promise it. The limit is 8 mL/100 g.",
			"Nadie indica el hidrógeno difusible de este alambre: ni la clase ni la caja lo aseguran. El límite es 8 mL/100 g."},
		{RuleWind, NotDemanded, spool(wire1C()), Demand{}, nil, "", "The job asks nothing about wind. This wire: external.",
			"El trabajo no pide nada sobre el viento. Este alambre: protección externa."},
		{RuleWind, Passed, spool(wire1C()), Demand{Wind: mph("5")}, nil, "structural-steel", "The job's wind of 5 mph is within the 5 mph for gas-shielded wire.",
			"El viento del trabajo, 5 mph, está dentro de los 5 mph para alambre con gas de protección."},
		{RuleWind, Caution, spool(wire1C()), Demand{Wind: mph("6")}, nil, "general-shop", "Gas-shielded wire: it holds up to 5 mph of wind, and the job has 6 mph. Put up a shelter. That limit is from practice: have the shop confirm it.",
			"Alambre con gas de protección: aguanta hasta 5 mph de viento, y el trabajo tiene 6 mph. Ponga un resguardo. Ese límite viene de la práctica: pida al taller que lo confirme."},
		{RuleWind, Stops, spool(wire1C()), Demand{Wind: mph("6")}, nil, "structural-steel", "Gas-shielded wire: it holds up to 5 mph of wind, and the job has 6 mph. Put up a shelter.",
			"Alambre con gas de protección: aguanta hasta 5 mph de viento, y el trabajo tiene 6 mph. Ponga un resguardo."},
		{RuleLotStatus, Passed, spool(wire1C()), Demand{}, nil, "", "The lot L-204 is accepted and the spool is not on hold.",
			"El lote L-204 está aceptado y el carrete no está retenido."},
		{RuleLotStatus, Stops, held, Demand{}, nil, "", "This spool is on hold: box torn.",
			"Este carrete está retenido: box torn."},
		{RuleCertificate, NotDemanded, papers(Certificate{Number: "MTC-7"}), Demand{}, nil, "", "The job asks nothing about the certificate. This wire: certificate MTC-7.",
			"El trabajo no pide nada sobre el certificado. Este alambre: certificado MTC-7."},
		{RuleCertificate, Passed, papers(Certificate{Number: "MTC-7", Type: "3.1"}), Demand{Certificate: Certificate{Type: "2.2"}}, nil, "", "This lot's certificate is 3.1 by EN 10204, and the job wants 2.2.",
			"El certificado de este lote es 3.1 según EN 10204, y el trabajo pide 2.2."},
		{RuleCertificate, Caution, papers(Certificate{Number: "MTC-7", Tested: ago(20)}), Demand{}, nil, "bridge", "The tests of this lot are of 2024-07-02, more than 12 months ago: ask for a newer certificate. That limit is from practice: have the shop confirm it.",
			"Los ensayos de este lote son del 2024-07-02, hace más de 12 meses: pida un certificado más nuevo. Ese límite viene de la práctica: pida al taller que lo confirme."},
		{RuleCertificate, Stops, papers(Certificate{}), Demand{Certificate: Certificate{Type: "2.2"}}, nil, "", "No certificate of this lot is on file: ask for it before the wire is used.",
			"No hay certificado de este lote en archivo: pídalo antes de usar el alambre."},
		{RuleShelfLife, NotDemanded, at(3), Demand{}, nil, "", "The job asks nothing about shelf life. This wire: made 2025-12-02.",
			"El trabajo no pide nada sobre la vida en almacén. Este alambre: fabricado el 2025-12-02."},
		{RuleShelfLife, Passed, at(3), Demand{}, nil, "general-shop", "This lot was made on 2025-12-02, within the 5 years that the rule profile allows.",
			"Este lote se fabricó el 2025-12-02, dentro de los 5 años que permite el perfil de reglas."},
		{RuleShelfLife, Caution, at(61), Demand{}, nil, "general-shop", "This lot was made on 2021-02-02, longer ago than the 5 years that the rule profile allows: inspect and test it before it is used.",
			"Este lote se fabricó el 2021-02-02, hace más de los 5 años que permite el perfil de reglas: inspecciónelo y ensáyelo antes de usarlo."},
		{RuleShelfLife, Stops, on(at(3), func(o *Offer) { o.Expires = ago(1) }), Demand{}, nil, "", "The box says use by 2026-02-02, and that is past: inspect and test the wire before it is used, or take another lot.",
			"La caja dice usar hasta el 2026-02-02, y eso ya pasó: inspeccione y ensaye el alambre antes de usarlo, o tome otro lote."},
		{RuleOrigin, NotDemanded, home("home"), Demand{}, nil, "", "The job asks nothing about origin. This wire: melted in home.",
			"El trabajo no pide nada sobre la procedencia. Este alambre: fundido en home."},
		{RuleOrigin, Passed, home("home"), Demand{Origin: Origin{Melted: []string{"home"}}}, nil, "", "This lot was melted in home, as the job wants.",
			"Este lote se fundió en home, como pide el trabajo."},
		{RuleOrigin, Stops, home("abroad"), Demand{Origin: Origin{Melted: []string{"home"}}}, nil, "", "This lot was melted in abroad. The job wants it melted in home.",
			"Este lote se fundió en abroad. El trabajo lo pide fundido en home."},
		{RuleExposure, Passed, spool(wire1C()), Demand{}, nil, "", "The spool is sealed.",
			"El carrete está cerrado."},
		{RuleExposure, Caution, opened(wire1C(), 73), Demand{}, nil, "general-shop", "The spool has been open 73 h. The profile allows 72 h: take a fresh spool.",
			"El carrete lleva abierto 73 h. El perfil permite 72 h: tome un carrete nuevo."},
		{RuleExposure, Passed, testedFor("120 h, 9 mL/100 g", 100), Demand{}, nil, "seismic-structural", "The spool has been open 100 h of the 120 h its exposure test allows.",
			"El carrete lleva abierto 100 h de las 120 h que permite su ensayo de exposición."},
		{RuleExposure, Stops, torn(spool(wire1C())), Demand{}, nil, "seismic-structural", "The spool has been open for a time that nobody knows (its package was damaged while it was sealed). The profile allows 72 h: take a fresh spool.",
			"El carrete lleva abierto un tiempo que nadie conoce (su envase se dañó estando cerrado). El perfil permite 72 h: tome un carrete nuevo."},
		{RuleExposure, Caution, untilFour(opened(wire1C(), 67)), Demand{}, nil, "seismic-structural", "The spool has been open 67 h of the 72 h the profile allows. Out of the cabinet it passes the limit at 15:00, before the shift ends at 16:00 UTC: have it back by then.",
			"El carrete lleva abierto 67 h de las 72 h que permite el perfil. Fuera del gabinete pasa del límite a las 15:00, antes de que termine el turno a las 16:00 UTC: devuélvalo antes."},
		{RuleExposure, Stops, opened(wire1C(), 73), Demand{}, nil, "seismic-structural", "The spool has been open 73 h. The profile allows 72 h: take a fresh spool.",
			"El carrete lleva abierto 73 h. El perfil permite 72 h: tome un carrete nuevo."},
		{RuleRemaining, NotDemanded, net(2000), Demand{}, nil, "", "The job asks nothing about the amount of weld. This wire: 2 kg of wire left.",
			"El trabajo no pide nada sobre la cantidad de soldadura. Este alambre: quedan 2 kg de alambre."},
		{RuleRemaining, Passed, net(4000), Demand{Welds: []Weld{fillet(8, 12)}}, nil, "", "The weld needs 3.865 kg of wire: 3.015 kg of weld metal (12 m of 8 mm fillet) at 78 % deposition efficiency. The spool has 4 kg.",
			"La soldadura necesita 3.865 kg de alambre: 3.015 kg de metal depositado (12 m de filete de 8 mm) con una eficiencia de deposición del 78 %. El carrete tiene 4 kg."},
		{RuleRemaining, Caution, net(2000), Demand{Welds: []Weld{{Shape: VGroove, Length: mm(4000), Depth: mm(12), Gap: mm(3), Angle: 600, Cap: mm(2)}}}, nil, "", "The weld needs 5.701 kg of wire: 4.447 kg of weld metal (4 m of V groove 12 mm deep, gap 3 mm, 60 deg, cap 2 mm) at 78 % deposition efficiency. The spool has 2 kg: 3.701 kg short.",
			"La soldadura necesita 5.701 kg de alambre: 4.447 kg de metal depositado (4 m de ranura en V de 12 mm de profundidad, abertura de raíz 3 mm, 60 deg, sobremonta 2 mm) con una eficiencia de deposición del 78 %. El carrete tiene 2 kg: faltan 3.701 kg."},
		{RuleMixing, NotDemanded, spool(wire1C()), Demand{Laid: laid}, nil, "structural-steel", "The joint holds self-shielded weld (E71T-8). The rule profile asks no proof of mixed deposits here.",
			"La junta lleva soldadura autoprotegida (E71T-8). El perfil de reglas no pide aquí prueba de depósitos mezclados."},
		{RuleMixing, Passed, spool(wire8()), Demand{Laid: laid}, nil, "seismic-structural", "The joint holds self-shielded weld (E71T-8): nothing is mixed.",
			"La junta lleva soldadura autoprotegida (E71T-8): nada se mezcla."},
		{RuleMixing, Caution, spool(wire1C()), cold, nil, "structural-steel", "Gas-shielded over self-shielded weld (E71T-8): the rule profile (Structural steel, AWS D1.1) wants proof by test, and the procedure names no report. Ask the engineer. That limit is from memory: have the shop confirm it.",
			"Alambre con gas de protección sobre soldadura autoprotegida (E71T-8): el perfil de reglas (Structural steel, AWS D1.1) pide prueba por ensayo, y el procedimiento no nombra ningún informe. Pregunte al ingeniero. Ese límite viene de la memoria: pida al taller que lo confirme."},
		{RuleMixing, Stops, spool(wire1C()), cold, nil, "seismic-structural", "Gas-shielded over self-shielded weld (E71T-8): the rule profile (Seismic structural steel, AWS D1.8) wants proof by test, and the procedure names no report. Ask the engineer.",
			"Alambre con gas de protección sobre soldadura autoprotegida (E71T-8): el perfil de reglas (Seismic structural steel, AWS D1.8) pide prueba por ensayo, y el procedimiento no nombra ningún informe. Pregunte al ingeniero."},
		{RuleRolls, NotDemanded, spool(wire1C()), Demand{}, nil, "", "No feeder is named, so nothing is asked about drive rolls.",
			"No se nombra ningún alimentador, así que nada se pide sobre los rodillos de arrastre."},
		{RuleRolls, Passed, spool(with(wire1C(), sheet("drive_rolls", "knurled V", ""))), Demand{}, &Feeder{Name: "F3", Rolls: KnurledV}, "", "Feeder F3 has knurled V rolls, as this wire wants.",
			"El alimentador F3 tiene rodillos moleteados en V, como pide este alambre."},
		{RuleRolls, Caution, spool(solidWire()), Demand{}, &Feeder{Name: "F3", Rolls: KnurledV}, "", "Feeder F3 has knurled V rolls. Common practice for this wire is smooth V: read the data sheet, or change them.",
			"El alimentador F3 tiene rodillos moleteados en V. La práctica común para este alambre son los lisos en V: lea la hoja de datos o cámbielos."},
		{RuleRolls, Stops, spool(wire1C()), Demand{}, &Feeder{Name: "F3", RollSize: inch(35)}, "", "This wire is .045 in (1.14 mm). Feeder F3 has rolls for .035 in (0.89 mm): change them.",
			"Este alambre es de .045 in (1.14 mm). El alimentador F3 tiene rodillos para .035 in (0.89 mm): cámbielos."},
		{RulePackage, NotDemanded, wrapped("12 in spool"), Demand{}, feeder, "", "Nobody has recorded which packages feeder F3 takes.",
			"Nadie ha registrado qué envases acepta el alimentador F3."},
		{RulePackage, Passed, wrapped("12 in spool"), Demand{}, hub, "", "Feeder F3 takes a 12 in spool.",
			"El alimentador F3 acepta un carrete de 12 in."},
		{RulePackage, Caution, wrapped("8 in spool"), Demand{}, hub, "", "This is an 8 in spool. Feeder F3 takes 12 in spool: a smaller one sits on the same hub, but that is from memory. Try it.",
			"Este es un carrete de 8 in. El alimentador F3 acepta carrete de 12 in: uno más chico entra en el mismo portacarrete, pero eso es de memoria. Pruébelo."},
		{RuleThickness, Stops, spool(wire1C()), outside, nil, "", "The plate is 40 mm (1.5748 in), thicker than procedure WPS-14 rev C is qualified for: 3 mm (.1181 in) to 25 mm (.9843 in). Move the job to another procedure or ask the welding engineer.",
			"La placa es de 40 mm (1.5748 in), más gruesa de lo calificado (procedimiento WPS-14 rev C): 3 mm (.1181 in) a 25 mm (.9843 in). Pase el trabajo a otro procedimiento o pregunte al ingeniero de soldadura."},
		{RuleThickness, Stops, spool(wire1C()), unstated, nil, "", "The job does not say how thick each plate is, and procedure WPS-14 rev C is qualified for 3 mm (.1181 in) to 25 mm (.9843 in): state it on the job.",
			"El trabajo no dice el espesor de cada placa, y lo calificado (procedimiento WPS-14 rev C) es 3 mm (.1181 in) a 25 mm (.9843 in): indíquelo en el trabajo."},
		{RuleBaseMetal, Stops, spool(wire1C()), outside, nil, "", "The joint has A572 Gr 50 (carbon steel), and procedure WPS-14 rev C is qualified for A36 (carbon steel) or group I. Move the job to another procedure or ask the welding engineer.",
			"La junta tiene A572 Gr 50 (acero al carbono), y lo calificado (procedimiento WPS-14 rev C) es A36 (acero al carbono) o grupo I. Pase el trabajo a otro procedimiento o pregunte al ingeniero de soldadura."},
		{RuleBaseMetal, Stops, spool(wire1C()), gradeless, nil, "", "The joint has A572 Gr 50 (carbon steel), and procedure WPS-14 rev C lists A572 without a grade: ask the welding engineer for a revision that states it, or move the job to another procedure.",
			"La junta tiene A572 Gr 50 (acero al carbono), y lo calificado (procedimiento WPS-14 rev C) es A572 sin grado: pida al ingeniero de soldadura una revisión que lo indique, o pase el trabajo a otro procedimiento."},
		{RuleBaseMetal, Stops, spool(wire1C()), plain, nil, "", "The job says A572 without a grade, and procedure WPS-14 rev C is qualified for A572 Gr 50 (carbon steel): state it on the job.",
			"El trabajo dice A572 sin grado, y lo calificado (procedimiento WPS-14 rev C) es A572 Gr 50 (acero al carbono): indíquelo en el trabajo."},
		{RuleBaseMetal, Passed, spool(wire1C()), within, nil, "", "This wire lays down carbon steel, as the joint is. The procedure is qualified for A36 (carbon steel).",
			"Este alambre deposita acero al carbono, igual que la junta. El procedimiento está calificado para A36 (acero al carbono)."},
		{RulePackage, Stops, wrapped("25 lb coil"), Demand{}, hub, "", "This is a coil. Feeder F3 takes 12 in spool: fit another hub or take another feeder.",
			"Este es un rollo. El alimentador F3 acepta carrete de 12 in: ponga otro portacarrete o tome otro alimentador."},
	}
}

// TestSentences holds what every rule says at every outcome that it can have.
func TestSentences(t *testing.T) {
	said := map[Rule]map[Outcome]bool{}
	for _, tt := range sentences() {
		p, _ := ProfileByID(tt.profile)
		got, _ := Check(tt.offer, tt.demand, tt.feeder, p).Find(tt.rule)
		if got.Outcome != tt.outcome || got.Says != tt.says {
			t.Errorf("Check: %s\n got %s: %q\nwant %s: %q", tt.rule, got.Outcome, got.Says, tt.outcome, tt.says)
		}
		if es := got.In(Spanish); es.Says != tt.es {
			t.Errorf("Check: %s: %s in Spanish\n got %q\nwant %q", tt.rule, got.Outcome, es.Says, tt.es)
		}
		if fault := badlySaidIn(got); fault != "" {
			t.Error(fault)
		}
		if said[tt.rule] == nil {
			said[tt.rule] = map[Outcome]bool{}
		}
		said[tt.rule][tt.outcome] = true
	}
	never := map[Rule][]Outcome{
		RuleClassification: {Caution},              // a class is listed or it is not
		RuleLotStatus:      {NotDemanded, Caution}, // it is always asked
		RuleExposure:       {NotDemanded},          // so is this
		RuleOrigin:         {Caution},              // a clause is met or it is not
		RuleRemaining:      {Stops},                // a second spool may follow
	}
	for _, r := range Rules() {
		for _, o := range never[r] {
			said[r][o] = true
		}
		for _, o := range []Outcome{NotDemanded, Passed, Caution, Stops} {
			if !said[r][o] {
				t.Errorf("no sentence is held for %s: %s", r, o)
			}
		}
	}
}
