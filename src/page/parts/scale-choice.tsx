import { effectScales, type EffectScale } from "../../effects/effect.js";
import { effectsDefaults } from "../../effects/effects-options.js";
import { scaleLabel } from "../../effects/scale-label.js";
import { useChoice } from "../app.js";

const name = "answers-scale";

/** The scale effects are put on, the same in every view that shows pooled answers. */
export const useScale = (): EffectScale => {
  const [word] = useChoice(name, effectsDefaults.scale);
  return effectScales.find((one) => one === word) ?? effectsDefaults.scale;
};

/** Where the scale is chosen. */
export const ScaleChoice = () => {
  const [, choose] = useChoice(name, effectsDefaults.scale);
  return (
    <label class="row">
      <span>Scale of the effects</span>
      <select value={useScale()} onChange={(event) => choose(event.currentTarget.value)}>
        {effectScales.map((one) => (
          <option key={one} value={one}>
            {scaleLabel(one)}
          </option>
        ))}
      </select>
    </label>
  );
};
