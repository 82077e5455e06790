#include "desk/CrashNote.h"
#include "desk/Log.h"
#include "window/Actions.h"
#include "window/MainWindow.h"

#include <iostream>

namespace shutterbeat::window
{
namespace
{
class App final : public juce::JUCEApplication
{
public:
    const juce::String getApplicationName() override { return "Shutterbeat"; }
    const juce::String getApplicationVersion() override { return SHUTTERBEAT_VERSION; }
    bool moreThanOneInstanceAllowed() override { return true; }

    void initialise (const juce::String&) override
    {
        std::vector<std::string> words;
        for (const auto& word : getCommandLineParameterArray())
            words.push_back (word.unquoted().toStdString());
        const auto wish = readStartWish (words);
        if (! wish)
        {
            std::cerr << wish.error().text() << "\n";
            setApplicationReturnValue (2);
            return quit();
        }
        window = std::make_unique<MainWindow> (*wish);
        if (const auto note = desk::takeCrashNote())
            window->bench().complain ("The window ended by a fault last time. " + *note);
        desk::log ("window begins");
    }
    void shutdown() override
    {
        window.reset();
        desk::log ("window ends");
    }
    void systemRequestedQuit() override { window != nullptr ? window->closeButtonPressed() : quit(); }
    void anotherInstanceStarted (const juce::String&) override {}

private:
    std::unique_ptr<MainWindow> window;
};

juce::JUCEApplicationBase* createApp()
{
    return new App();
}

int printKeys (const std::string& path)
{
    if (path.empty())
    {
        std::cerr << "shutterbeat-window: --keys needs the file to write, such as keys.pdf\n";
        return 2;
    }
    const auto notes = desk::writeKeySheet (path, keyGroups(), false);
    if (! notes)
    {
        std::cerr << notes.error().text() << "\n";
        return 4;
    }
    for (const auto& note : *notes)
        std::cerr << note << "\n";
    return 0;
}
} // namespace
} // namespace shutterbeat::window

int main (int count, char** words)
{
    for (int i = 1; i < count; ++i)
        if (std::string (words[i]) == "--help")
        {
            std::cout << shutterbeat::window::startHelp();
            return 0;
        }
    for (int i = 1; i < count; ++i)
        if (std::string (words[i]) == "--keys")
            return shutterbeat::window::printKeys (i + 1 < count ? words[i + 1] : "");
    if (const char* display = std::getenv ("DISPLAY"); display == nullptr || *display == 0)
    {
        std::cerr << "shutterbeat-window: there is no display (DISPLAY is not set); start it in a desktop session, or use "
                     "the shutterbeat command, which needs none\n";
        return 2;
    }
    shutterbeat::desk::leaveNoteOnCrash();
    juce::JUCEApplicationBase::createInstance = &shutterbeat::window::createApp;
    return juce::JUCEApplicationBase::main (count, const_cast<const char**> (words));
}
