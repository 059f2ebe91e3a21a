/**
 * Twenty statements of common practice, without a source: the same as `data/example-statements.csv`, which a test keeps
 * equal; written out here, so that a page without a disk has them too.
 */
export const exampleStatements = `statement,population,outcome,compared,from,to,equal,where,claim,least,most,unit
Isometric training makes people stronger.,,strength,training,,,,,more,,,
Isometric training makes muscles bigger.,,size,training,,,,,more,,,
Isometric training makes tendons stiffer.,,tendon stiffness,training,,,,,more,,,
Isometric training lowers resting blood pressure.,,blood pressure,training,,,,,less,,,
Eight weeks bring at least 10% more strength.,,strength,training,,,,weeks between 6 and 10,amount,10,,%
Gains in strength over 7 to 16 weeks lie between 5 and 91%.,,strength,training,,,,weeks between 7 and 16,range,5,91,%
Longer holds grow more muscle than short ones at equal tension.,,size,hold length,,,tension time,,more,,,
Longer holds build more strength than short ones.,,strength,hold length,,,,,more,,,
Intensity hardly matters for size between 50 and 100%.,,size,intensity,50,100,,,no difference,,,
Tendon needs 70% or more.,,tendon stiffness,intensity,70,,,,threshold,,,
45 to 60 s near-maximal a session is enough for strength.,,strength,tension time in a session,45,60,,near maximal share=100,enough,,,
The best hold for tendon lasts 2 to 5 s.,,tendon stiffness,hold length,2,5,,,optimum,,,
Pushing can be held about twice as long as holding.,,endurance,pushing or holding,,,,,endurance,1.5,2.5,
A hold at half of the maximum can be kept for about a minute.,,endurance,intensity,50,,,,endurance,30,120,
Half of the twelve-week gain in strength is there after four weeks.,,strength,weeks,4,12,,,time course,50,,%
"Twenty degrees from the trained angle, half of the gain or less is left.",,strength,joint angle,20,,,,joint angle,,50,%
Training at long muscle length carries over to more angles than at short length.,,strength,muscle length,short,long,,,joint angle,,,
Training at long muscle length grows more muscle than at short length.,,size,muscle length,short,long,,,more,,,
Isometric and dynamic training build the same isometric strength.,,strength,isometric or dynamic,,,,,no difference,,,
Holds made as fast as possible improve rapid force more than ramped ones.,,rapid force,intent of the hold,ramped,fast,,,more,,,
`;
