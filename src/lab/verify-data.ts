export { verifyStore as verifyData } from "../store/verify-store.ts";
