declare module "*.glsl" {
  const text: string;
  export default text;
}
declare module "*.css";
