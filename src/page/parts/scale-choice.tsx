import { effectScales, type EffectScale } from "../../effects/effect.js";
import { effectsDefaults } from "../../effects/effects-options.js";
import { useShared, WhatIsAsked } from "./asked.js";

/** The scale effects are put on, the same in every view. */
export const useScale = (): EffectScale => {
  const { scale } = useShared();
  return effectScales.find((one) => one === scale) ?? effectsDefaults.scale;
};

export const ScaleChoice = () => <WhatIsAsked />;
