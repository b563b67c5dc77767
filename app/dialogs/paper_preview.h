// SPDX-License-Identifier: GPL-3.0-or-later
// What will be on paper, page by page, before it is printed or saved: painted by the very code that
// paints the PDF. A window that stands beside the work. At the left what goes into the packet,
// where there is a choice.
#pragma once

#include "app/print/page_run.h"

#include <QWidget>

#include <functional>
#include <memory>
#include <optional>

class QLabel;
class QListWidget;
class QPrinter;
class QPrintPreviewWidget;

namespace keyround {

class Session;

/// One of several papers, such as one a year, to choose above the pages.
struct PreviewPick
{
    struct Taken
    {
        QString words; ///< said beside the choice: what it means
        QString suggestedName;
    };
    QString label;
    QStringList options = {};
    int current = 0;
    std::function<Taken(int option)> take = {}; ///< before the parts are made of it
};

struct PreviewJob
{
    QString title; ///< of the window and of the PDF
    QString suggestedName;
    QStringList choices;             ///< what can be left out; empty: nothing can
    std::optional<PreviewPick> pick; ///< asked above the pages
    /// The parts for the choices that are ticked, by their places in the list.
    std::function<Result<std::vector<PaperPart>>(const std::vector<int> &ticked)> make;
    PaperOptions options;
};

class PaperPreview final : public QWidget
{
    Q_OBJECT
public:
    PaperPreview(Session &session, PreviewJob job, QWidget *parent = nullptr);
    ~PaperPreview() override;

    /// Opens it as a window beside `owner`, in the place of one that stands open.
    static PaperPreview *openBeside(QWidget *owner, Session &session, PreviewJob job);

    [[nodiscard]] int pageCount() const;
    [[nodiscard]] QListWidget *choices() const { return m_choices; }

private:
    [[nodiscard]] QWidget *buildBar();
    [[nodiscard]] QWidget *buildPick();
    void take(int option);
    [[nodiscard]] std::vector<int> ticked() const;
    void make();
    void paint(QPrinter *printer);
    void savePdf();
    void print();
    void goTo(int page);
    void refreshPage();

    Session &m_session;
    PreviewJob m_job;
    std::vector<PaperPart> m_parts;
    std::unique_ptr<QPrinter> m_printer;
    QPrintPreviewWidget *m_pages = nullptr;
    QListWidget *m_choices;
    QLabel *m_where;
    QLabel *m_refusal;
    QLabel *m_pickWords = nullptr;
};

} // namespace keyround
