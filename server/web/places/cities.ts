/**
 * Cities whose time zone is called after another one, and other names of those that have one: the large ones, as people
 * type them in English, German and their own language. Geography that everybody knows, from memory; the zones are
 * those of the tz database.
 */
export const CITIES: Readonly<Record<string, string>> = {
  'Europe/London':
    'edinburgh glasgow aberdeen cardiff manchester birmingham liverpool leeds bristol sheffield newcastle nottingham brighton oxford cambridge york bath',
  'Europe/Dublin': 'cork galway limerick',
  'Europe/Berlin':
    'munich münchen hamburg cologne köln frankfurt stuttgart düsseldorf leipzig dresden hannover hanover bremen nürnberg nuremberg essen dortmund bonn mannheim karlsruhe freiburg kiel weimar kassel',
  'Europe/Vienna': 'wien graz linz salzburg innsbruck klagenfurt bregenz',
  'Europe/Zurich': 'bern berne basel geneva genf genève lausanne luzern lucerne winterthur lugano',
  'Europe/Paris':
    'lyon marseille toulouse nice nantes bordeaux lille strasbourg straßburg montpellier rennes grenoble avignon',
  'Europe/Rome':
    'rom roma milan milano mailand naples napoli neapel turin torino venice venezia venedig florence firenze florenz bologna genoa genova genua verona palermo trieste triest bozen bolzano',
  'Europe/Madrid': 'barcelona valencia seville sevilla bilbao zaragoza málaga granada palma',
  'Europe/Lisbon': 'lissabon lisboa porto coimbra braga',
  'Europe/Amsterdam': 'rotterdam utrecht eindhoven denhaag thehague groningen maastricht arnhem',
  'Europe/Brussels': 'brüssel bruxelles brussel antwerp antwerpen ghent gent bruges brugge liège lüttich leuven',
  'Europe/Luxembourg': 'luxemburg',
  'Europe/Copenhagen': 'københavn kopenhagen aarhus århus odense aalborg',
  'Europe/Stockholm': 'gothenburg göteborg malmö uppsala',
  'Europe/Oslo': 'bergen trondheim stavanger tromsø',
  'Europe/Helsinki': 'tampere turku espoo',
  'Europe/Warsaw': 'warschau warszawa kraków krakau cracow gdańsk danzig wrocław breslau poznań posen łódź lodz',
  'Europe/Prague': 'prag praha brno brünn ostrava plzeň pilsen',
  'Europe/Bratislava': 'pressburg košice',
  'Europe/Budapest': 'debrecen szeged pécs',
  'Europe/Ljubljana': 'laibach maribor',
  'Europe/Zagreb': 'agram split rijeka',
  'Europe/Belgrade': 'belgrad beograd novisad',
  'Europe/Bucharest': 'bukarest bucurești cluj timișoara',
  'Europe/Sofia': 'plovdiv varna',
  'Europe/Athens': 'athen athina thessaloniki patras',
  'Europe/Istanbul': 'ankara izmir constantinople',
  'Europe/Kyiv': 'kiev kiew kyiv lviv lemberg odesa odessa kharkiv',
  'Europe/Moscow': 'moskau moskva stpetersburg saintpetersburg',
  'Atlantic/Reykjavik': 'reykjavík akureyri',
  'America/New_York':
    'newyorkcity nyc brooklyn boston washington washingtondc philadelphia baltimore atlanta miami orlando pittsburgh cleveland columbus charlotte buffalo providence newhaven richmond',
  'America/Chicago':
    'houston dallas austin sanantonio fortworth minneapolis milwaukee stlouis saintlouis neworleans nashville memphis kansascity oklahomacity omaha',
  'America/Denver': 'saltlakecity albuquerque santafe elpaso boulder',
  'America/Phoenix': 'tucson',
  'America/Los_Angeles': 'la sanfrancisco seattle portland sandiego lasvegas oakland sacramento',
  'America/Toronto': 'montreal montréal ottawa québec quebeccity',
  'America/Edmonton': 'calgary',
  'America/Mexico_City': 'mexiko mexikostadt ciudaddemexico guadalajara puebla cdmx',
  'America/Sao_Paulo': 'rio riodejaneiro brasília curitiba portoalegre belohorizonte',
  'America/Argentina/Buenos_Aires': 'rosario',
  'America/Bogota': 'medellín cali',
  'America/Santiago': 'valparaíso',
  'Asia/Kolkata':
    'calcutta kolkata mumbai bombay delhi newdelhi neudelhi bangalore bengaluru chennai madras hyderabad pune ahmedabad jaipur',
  'Asia/Kathmandu': 'kathmandu katmandu',
  'Asia/Yangon': 'yangon rangoon',
  'Asia/Ho_Chi_Minh': 'saigon hochiminh hochiminhcity hanoi',
  'Asia/Shanghai': 'beijing peking shenzhen guangzhou chengdu wuhan nanjing hangzhou tianjin',
  'Asia/Tokyo': 'tokio osaka kyoto nagoya yokohama sapporo fukuoka kobe hiroshima',
  'Asia/Seoul': 'busan',
  'Asia/Singapore': 'singapur',
  'Asia/Dubai': 'abudhabi',
  'Asia/Jerusalem': 'telaviv haifa',
  'Africa/Cairo': 'kairo giza',
  'Africa/Johannesburg': 'capetown kapstadt durban pretoria',
  'Africa/Lagos': 'abuja ibadan',
  'Australia/Sydney': 'canberra newcastlensw wollongong',
  'Australia/Brisbane': 'goldcoast cairns',
  'Pacific/Auckland': 'wellington christchurch dunedin',
};
