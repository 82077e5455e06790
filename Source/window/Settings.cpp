#include "window/Settings.h"

#include "window/Fonts.h"

namespace shutterbeat::window
{
namespace
{
constexpr int recentKept = 8;

juce::PropertiesFile::Options where()
{
    juce::PropertiesFile::Options options;
    options.applicationName = "window";
    options.filenameSuffix = "settings";
    options.folderName =
        juce::File::getSpecialLocation (juce::File::userApplicationDataDirectory).getChildFile ("shutterbeat").getFullPathName();
    options.storageFormat = juce::PropertiesFile::storeAsXML;
    return options;
}
} // namespace

Settings loadSettings()
{
    juce::PropertiesFile file (where());
    Settings settings;
    settings.day = file.getBoolValue ("day", settings.day);
    settings.scalePercent = juce::jlimit (100, 200, file.getIntValue ("scale", settings.scalePercent));
    settings.width = juce::jlimit (960, 8000, file.getIntValue ("width", settings.width));
    settings.height = juce::jlimit (600, 8000, file.getIntValue ("height", settings.height));
    settings.tapLateMs = juce::jlimit (-1000, 1000, file.getIntValue ("tapLate", settings.tapLateMs));
    settings.sound.device = file.getValue ("soundDevice").toStdString();
    settings.sound.gainDb = juce::jlimit (-60, 12, file.getIntValue ("soundGain", 0));
    settings.sound.click = file.getBoolValue ("soundClick", false);
    settings.sound.muted = file.getBoolValue ("soundMuted", false);
    settings.sound.offsetMs = juce::jlimit (-1000, 1000, file.getIntValue ("soundOffset", 0));
    settings.sound.midiOutput = file.getValue ("midiOutput").toStdString();
    settings.sound.codeOffsetMs = juce::jlimit (-1000, 1000, file.getIntValue ("codeOffset", 0));
    settings.lessMotion = file.getBoolValue ("lessMotion", false);
    settings.cautionRead = file.getBoolValue ("cautionRead", false);
    for (int i = 0; i < recentKept; ++i)
        if (const auto path = file.getValue ("recent" + juce::String (i)); path.isNotEmpty())
            settings.recent.push_back (path.toStdString());
    return settings;
}

void saveSettings (const Settings& settings)
{
    juce::PropertiesFile file (where());
    file.setValue ("day", settings.day);
    file.setValue ("scale", settings.scalePercent);
    file.setValue ("width", settings.width);
    file.setValue ("height", settings.height);
    file.setValue ("tapLate", settings.tapLateMs);
    file.setValue ("soundDevice", text (settings.sound.device));
    file.setValue ("soundGain", settings.sound.gainDb);
    file.setValue ("soundClick", settings.sound.click);
    file.setValue ("soundMuted", settings.sound.muted);
    file.setValue ("soundOffset", settings.sound.offsetMs);
    file.setValue ("midiOutput", text (settings.sound.midiOutput));
    file.setValue ("codeOffset", settings.sound.codeOffsetMs);
    file.setValue ("lessMotion", settings.lessMotion);
    file.setValue ("cautionRead", settings.cautionRead);
    for (int i = 0; i < recentKept; ++i)
        file.setValue ("recent" + juce::String (i), static_cast<std::size_t> (i) < settings.recent.size()
                                                        ? text (settings.recent[static_cast<std::size_t> (i)])
                                                        : juce::String());
    file.saveIfNeeded();
}
} // namespace shutterbeat::window
