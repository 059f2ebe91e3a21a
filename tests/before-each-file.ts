/** What is done before each test file; the files of one worker share everything else that is loaded. */
import { giveTestFolder } from "./command/test-folder.js";

giveTestFolder();
